"""Topics of VOC: worked examples of guidebooks, agencies and state templates."""

from __future__ import annotations

from mixbench.mixing import emission, voc
from mixbench.mixing.voc import Volatiles, summed, volatiles_by_weight
from tests.published.checks import Inputs, Outputs, check
from tests.published.topics._units import (
    G_L_PER_LB_GAL,
    G_ML_PER_LB_GAL,
    G_PER_LB,
    G_PER_SHORT_TON,
    L_PER_GAL,
)


def coating(gal: float, voc_lb: float, **more: float) -> Volatiles:
    """Return a coating given in gallons and pounds."""
    litres = {name: value * L_PER_GAL for name, value in more.items()}
    return Volatiles(volume_l=gal * L_PER_GAL, voc_g=voc_lb * G_PER_LB, **litres)


@check("voc_mix_by_volume")
def mix_by_volume(inputs: Inputs) -> Outputs:
    if "parts" in inputs:
        mix = summed(
            coating(part["gal"], part["gal"] * part["voc_lb_gal"]) for part in inputs["parts"]
        )
    else:
        mix = coating(inputs["total_gal"], inputs["total_voc_lb"])
    return {
        "total_gal": mix.volume_l / L_PER_GAL,
        "total_voc_lb": mix.voc_g / G_PER_LB,
        "mix_voc_lb_gal": mix.actual_g_l / G_L_PER_LB_GAL,
    }


@check("voc_add_thinner")
def add_thinner(inputs: Inputs) -> Outputs:
    thinner_gal = inputs["thinner_gal"]
    mix = coating(inputs["start_gal"], inputs["start_voc_lb"])
    thinned = mix + coating(thinner_gal, thinner_gal * inputs["thinner_voc_lb_gal"])
    return {"mix_voc_lb_gal": thinned.actual_g_l / G_L_PER_LB_GAL}


@check("voc_largest_thinner")
def largest_thinner(inputs: Inputs) -> Outputs:
    litres = emission.largest_thinner_l(
        coating(inputs["start_gal"], inputs["start_voc_lb"]),
        inputs["thinner_voc_lb_gal"] * G_L_PER_LB_GAL,
        inputs["limit_lb_gal"] * G_L_PER_LB_GAL,
    )
    return {"thinner_gal": litres / L_PER_GAL}


@check("voc_less_water_dilution_invariance")
def less_water_dilution_invariance(inputs: Inputs) -> Outputs:
    coating_gal, water_gal = inputs["coating_gal"], inputs["water_gal"]
    mix = coating(coating_gal, coating_gal * inputs["coating_voc_lb_gal"]) + coating(
        water_gal, 0.0, water_l=water_gal
    )
    return {"voc_less_water_lb_gal": mix.less_water_g_l / G_L_PER_LB_GAL}


@check("voc_less_water_of_parts")
def less_water_of_parts(inputs: Inputs) -> Outputs:
    parts = [coating(part["gal"], part["gal"] * part["voc_lb_gal"]) for part in inputs["parts"]]
    water = coating(inputs["water_gal"], 0.0, water_l=inputs["water_gal"])
    return {"voc_less_water_lb_gal": summed([*parts, water]).less_water_g_l / G_L_PER_LB_GAL}


@check("voc_actual_and_regulatory_from_weights")
def from_weights(inputs: Inputs) -> Outputs:
    analysed = volatiles_by_weight(
        inputs["density_lb_gal"] * G_ML_PER_LB_GAL,
        solids=inputs["solids_wt_pct"] / 100.0,
        water=inputs["water_wt_pct"] / 100.0,
        exempt=inputs["exempt_wt_pct"] / 100.0,
        water_g_ml=inputs["water_density_lb_gal"] * G_ML_PER_LB_GAL,
    )
    return {
        "voc_actual_lb_gal": analysed.actual_g_l / G_L_PER_LB_GAL,
        "voc_less_water_lb_gal": analysed.regulatory_g_l / G_L_PER_LB_GAL,
    }


@check("voc_three_bases")
def three_bases(inputs: Inputs) -> Outputs:
    mix = coating(
        inputs["coating_gal"],
        inputs["voc_lb"],
        water_l=inputs["water_gal"],
        solids_l=inputs["solids_gal"],
    )
    return {
        "voc_actual_lb_gal": mix.actual_g_l / G_L_PER_LB_GAL,
        "voc_less_water_lb_gal": mix.less_water_g_l / G_L_PER_LB_GAL,
        "voc_per_gal_solids_lb": mix.per_solids_g_l / G_L_PER_LB_GAL,
    }


@check("voc_wt_pct_of_mixture")
def weight_percent_of_mixture(inputs: Inputs) -> Outputs:
    parts = [
        (part["vol_pct"], part["density_lb_gal"] * G_ML_PER_LB_GAL, part["voc_wt_pct"] / 100.0)
        for part in inputs["parts"]
    ]
    mix = summed(
        Volatiles(volume, volatiles_by_weight(density, solids=1.0 - share).voc_g * volume)
        for volume, density, share in parts
    )
    mass_g = 1000.0 * sum(volume * density for volume, density, _ in parts)
    return {"true_mass_weighted_pct": 100.0 * mix.voc_g / mass_g}


@check("voc_40cfr59_equation")
def equation_of_40cfr59(inputs: Inputs) -> Outputs:
    mix = Volatiles(
        volume_l=inputs["coating_L"],
        voc_g=inputs["total_volatiles_g"] - inputs["water_g"] - inputs["exempt_g"],
        water_g=inputs["water_g"],
        water_l=inputs["water_L"],
        exempt_g=inputs["exempt_g"],
        exempt_l=inputs["exempt_g"] / inputs["exempt_density_g_L"],
    )
    return {"voc_regulatory_g_L": mix.regulatory_g_l, "voc_actual_g_L": mix.actual_g_l}


@check("voc_less_water_maryland_form")
def maryland_form(inputs: Inputs) -> Outputs:
    gallon = coating(
        1.0,
        inputs["voc_lb_gal"],
        water_l=inputs["water_lb_gal"] / inputs["water_density_lb_gal"],
        exempt_l=inputs["exempt_lb_gal"] / inputs["exempt_density_lb_gal"],
    )
    return {"voc_less_water_lb_gal": gallon.regulatory_g_l / G_L_PER_LB_GAL}


@check("voc_multistage_system")
def multistage_system(inputs: Inputs) -> Outputs:
    system = emission.multistage_voc_g_l(
        inputs["basecoat_voc"], inputs["clearcoat_voc"], inputs["midcoats"]
    )
    return {"system_voc": system}


@check("voc_per_volume_solids")
def per_volume_solids(inputs: Inputs) -> Outputs:
    per_solids = emission.voc_per_solids_g_l(
        inputs["voc_lb_gal_coating"] * G_L_PER_LB_GAL,
        inputs["solvent_density_lb_gal"] * G_L_PER_LB_GAL,
    )
    return {"voc_lb_gal_solids": per_solids / G_L_PER_LB_GAL}


@check("limit_conversion_solvent_density")
def conversion_by_solvent_density(inputs: Inputs) -> Outputs:
    per_solids = emission.voc_per_solids_g_l(
        inputs["limit_lb_gal"], inputs["standard_solvent_density"]
    )
    allowed = emission.voc_from_per_solids_g_l(per_solids, inputs["actual_solvent_density"])
    return {"allowed_lb_gal": allowed}


@check("annual_emission_from_usage")
def annual_emission_from_usage(inputs: Inputs) -> Outputs:
    grams = emission.total_emission_g(
        [inputs["gal_per_vehicle"] * inputs["vehicles_per_year"] * L_PER_GAL],
        [inputs["hap_lb_gal"] * G_L_PER_LB_GAL],
    )
    return {"tons_per_year": grams / G_PER_SHORT_TON}


@check("annual_emission_sum")
def annual_emission_sum(inputs: Inputs) -> Outputs:
    tons = inputs["tons"]
    return {
        "one_booth_tpy": emission.total_emission_g([1.0] * len(tons), tons),
        "all_booths_tpy": emission.total_emission_g([inputs["booths"]] * len(tons), tons),
    }


@check("vehicles_per_year")
def vehicles_per_year(inputs: Inputs) -> Outputs:
    return {"vehicles": emission.jobs_in(inputs["hours_per_year"], inputs["hours_per_vehicle"])}


@check("voc_daily_weighted_average")
def daily_weighted_average(inputs: Inputs) -> Outputs:
    gallons, contents = inputs["gal_per_day"], inputs["voc_lb_gal"]
    return {
        "total_lb": emission.total_emission_g(gallons, contents),
        "average_lb_gal": emission.weighted_content_g_l(gallons, contents),
    }


@check("exempt_content_after_thinning")
def exempt_content_after_thinning(inputs: Inputs) -> Outputs:
    volumes = [inputs["coating_gal"], inputs["thinner_gal"]]
    contents = [inputs["coating_exempt_lb_gal"], inputs["thinner_exempt_lb_gal"]]
    return {
        "total_lb": emission.total_emission_g(volumes, contents),
        "exempt_lb_gal": emission.weighted_content_g_l(volumes, contents),
    }


@check("unit: g/L -> lb/US gal")
def grams_per_litre(inputs: Inputs) -> Outputs:
    return {"lb_gal": inputs["g_L"] / voc.GRAM_PER_LITRE}
