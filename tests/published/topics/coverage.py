"""Topics of coverage: spreading rates, wet and dry film, consumption."""

from __future__ import annotations

from mixbench.mixing import coverage
from mixbench.mixing.coverage import Film
from tests.published.checks import Inputs, Outputs, check
from tests.published.topics._units import (
    FT2_GAL_PER_M2_L,
    L_PER_GAL,
    M2_PER_IN2,
    ML_PER_IN3,
    UM_PER_MIL,
)


def square_feet_per_gallon(volume_solids: float, dry_mil: float) -> float:
    """Return the spreading rate in the units of the US sources."""
    rate = coverage.spreading_rate_m2_l(volume_solids, dry_mil * UM_PER_MIL)
    return rate * FT2_GAL_PER_M2_L


@check("coverage_practical")
def practical(inputs: Inputs) -> Outputs:
    film = Film(inputs["dft_mil"] * UM_PER_MIL, inputs["volume_solids"], inputs["transfer_eff"])
    rate = coverage.practical_rate_m2_l(
        coverage.spreading_rate_m2_l(film.volume_solids, film.dry_um), film.transfer
    )
    return {"ft2": rate * FT2_GAL_PER_M2_L * inputs["gal"]}


@check("coverage_theoretical_us")
def theoretical_us(inputs: Inputs) -> Outputs:
    return {"ft2_per_gal": square_feet_per_gallon(inputs["volume_solids"], inputs["dft_mil"])}


@check("coverage_table_us")
def table_us(inputs: Inputs) -> Outputs:
    volume_solids = inputs["volume_solids_pct"] / 100.0
    return {"ft2_per_gal": square_feet_per_gallon(volume_solids, inputs["dft_mil"])}


@check("coverage_theoretical_si")
@check("coverage_table_si")
def theoretical_si(inputs: Inputs) -> Outputs:
    volume_solids = inputs["volume_solids_pct"] / 100.0
    return {
        "m2_per_L": coverage.spreading_rate_m2_l(volume_solids, inputs["dft_um"]),
        "wft_um": coverage.wet_film_um(inputs["dft_um"], volume_solids),
    }


@check("wft_from_dft")
def wet_from_dry(inputs: Inputs) -> Outputs:
    wet = coverage.wet_film_um(inputs["dft_mil"] * UM_PER_MIL, inputs["volume_solids"])
    return {"wft_mil": wet / UM_PER_MIL}


@check("wet_film_um")
def wet_film(inputs: Inputs) -> Outputs:
    thinned = coverage.thinned_solids(inputs["volume_solids"], inputs.get("thinner", 0.0))
    return {"volume_solids": thinned, "wft_um": coverage.wet_film_um(inputs["dft_um"], thinned)}


@check("dry_film_um")
def dry_film(inputs: Inputs) -> Outputs:
    return {"dft_um": coverage.dry_film_um(inputs["wft_um"], inputs["volume_solids"])}


@check("volume_solids_after_thinning")
def after_thinning(inputs: Inputs) -> Outputs:
    thinner = inputs["thinner_gal"] / inputs["coating_gal"]
    return {"volume_solids": coverage.thinned_solids(inputs["volume_solids"], thinner)}


@check("coverage_with_loss")
def with_loss(inputs: Inputs) -> Outputs:
    transfer = 1.0 - inputs["loss_fraction"]
    return {"practical": coverage.practical_rate_m2_l(inputs["theoretical"], transfer)}


@check("coverage_with_transfer_eff")
def with_transfer(inputs: Inputs) -> Outputs:
    rate = coverage.practical_rate_m2_l(inputs["theoretical_ft2"], inputs["transfer_eff"])
    return {"ft2": rate}


@check("coverage_thinned_with_loss")
def thinned_with_loss(inputs: Inputs) -> Outputs:
    solids = coverage.thinned_solids(inputs["volume_solids"], inputs["thinner"])
    theoretical = coverage.spreading_rate_m2_l(solids, inputs["dft_um"])
    return {
        "volume_solids": solids,
        "theoretical_m2_L": theoretical,
        "practical_m2_L": coverage.practical_rate_m2_l(theoretical, 1.0 - inputs["loss_fraction"]),
    }


@check("paint_consumption")
def consumption(inputs: Inputs) -> Outputs:
    film = Film(inputs["dft_um"], inputs["volume_solids"], 1.0 - inputs["loss_fraction"])
    return {"litres": coverage.need(inputs["area_m2"], 1.0, film).total_ml / 1000.0}


@check("film_volume_to_mass")
def film_volume_to_mass(inputs: Inputs) -> Outputs:
    area_m2 = inputs["length_in"] * inputs["width_in"] * M2_PER_IN2
    wet_film = Film(inputs["film_mil"] * UM_PER_MIL, volume_solids=1.0)
    job = coverage.need(area_m2, 1.0, wet_film)
    gallons = job.total_ml / 1000.0 / L_PER_GAL
    density_g_ml = inputs["mixed_density_g_per_gal"] / L_PER_GAL / 1000.0
    return {
        "in3": job.total_ml / ML_PER_IN3,
        "gal": gallons,
        "grams": job.total_g(density_g_ml),
    }


@check("coats_by_shade")
def coats_by_shade(inputs: Inputs) -> Outputs:
    return {"coats": coverage.coats(inputs["full"], inputs["half"])}
