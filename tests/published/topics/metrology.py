"""What a scale, a test weight and a fill may be off by, and what a weight on the display is worth.

Rows and their sources: ``data/metrology.csv``.
"""

from __future__ import annotations

from mixbench.weighing.buoyancy import buoyancy_factor, buoyancy_ratio_error
from mixbench.weighing.checking import KnownWeight, judged, third_rule
from mixbench.weighing.least import least_net_by_certificate_g, least_net_g, smallest_pot_g
from mixbench.weighing.legal import (
    AccuracyClass,
    WeightClass,
    fill_limits,
    hb44_tolerance_d,
    least_load_g,
    scale_limit_g,
    scale_plate,
    weight_limit_g,
)
from mixbench.weighing.metrology import (
    ScaleFigures,
    SpreadOf,
    net_rounding_uncertainty_g,
    net_uncertainty,
    ratio_uncertainty,
    rounding_uncertainty_g,
)
from tests.published.checks import Inputs, Outputs, check


@check("r76_mpe")
def limit_in_intervals(inputs: Inputs) -> Outputs:
    accuracy = AccuracyClass(inputs["class"])
    return {
        "mpe_e": scale_limit_g(accuracy, 1.0, inputs["load_e"], in_service=inputs["in_service"])
    }


@check("r76_in_service")
@check("r76_mpe_grams")
def limit_in_grams(inputs: Inputs) -> Outputs:
    given = (AccuracyClass(inputs["class"]), inputs["e_g"], inputs["load_g"])
    new_g, service_g = scale_limit_g(*given), scale_limit_g(*given, in_service=True)
    return {
        "mpe_new_g": new_g,
        "initial_g": new_g,
        "mpe_service_g": service_g,
        "in_service_g": service_g,
    }


@check("r76_min")
def minimum(inputs: Inputs) -> Outputs:
    least_g = least_load_g(AccuracyClass(inputs["class"]), inputs["e_g"])
    return {"min_g": least_g, "min_e": least_g / inputs["e_g"]}


@check("r76_class")
def plate(inputs: Inputs) -> Outputs:
    found = scale_plate(AccuracyClass(inputs["class"]), inputs["e_g"], inputs["max_g"])
    return {"n": found.divisions, "min_g": found.least_g, "n_allowed": found.allowed}


@check("r111_mpe")
def weights(inputs: Inputs) -> Outputs:
    return {
        f"{each.value}_mg": 1000.0 * weight_limit_g(each, inputs["nominal_g"])
        for each in WeightClass
    }


@check("hb44_class3")
@check("hb44_tol")
def us_tolerance(inputs: Inputs) -> Outputs:
    accuracy = AccuracyClass(inputs.get("class", "III"))
    return {
        "maintenance_d": hb44_tolerance_d(accuracy, inputs["load_d"]),
        "acceptance_d": hb44_tolerance_d(accuracy, inputs["load_d"], acceptance=True),
    }


@check("testweight_third_rule")
def fine_enough(inputs: Inputs) -> Outputs:
    weight = KnownWeight(inputs["nominal_g"], WeightClass(inputs["weight"]))
    found = third_rule([weight], AccuracyClass(inputs["scale_class"]), inputs["e_g"])
    return {
        "weight_mpe_mg": 1000.0 * found.weights_g,
        "limit_mg": 1000.0 * found.allowed_g,
        "ok": found.kept,
    }


@check("r61_fill")
def fill(inputs: Inputs) -> Outputs:
    found = fill_limits(inputs["fill_g"], inputs["class_x"])
    return {
        "initial_pct": 100.0 * found.initial,
        "in_service_pct": 100.0 * found.in_service,
        "preset_pct": 100.0 * found.preset,
    }


@check("r61_fill_g")
def fill_in_grams(inputs: Inputs) -> Outputs:
    found = fill_limits(inputs["fill_g"], inputs["class_x"])
    return {
        "initial_g": inputs["fill_g"] * found.initial,
        "in_service_g": inputs["fill_g"] * found.in_service,
    }


@check("u_round")
def rounding(inputs: Inputs) -> Outputs:
    return {
        "u_single_g": rounding_uncertainty_g(inputs["d_g"]),
        "u_net_g": net_rounding_uncertainty_g(inputs["d_g"]),
    }


@check("u_combined")
def spread_counted_once(inputs: Inputs) -> Outputs:
    scale = ScaleFigures(inputs["d_g"], inputs["s_g"], SpreadOf.NET, inputs["u_cal_g"])
    found = net_uncertainty(scale, k=inputs["k"])
    return {
        "u_g": found.standard,
        "U_g": found.expanded,
        "U_pct": 100.0 * found.relative_to(inputs["net_g"]).expanded,
    }


@check("u_net_ecc")
def spread_counted_twice(inputs: Inputs) -> Outputs:
    scale = ScaleFigures(
        inputs["d_g"],
        inputs["s_g"],
        SpreadOf.READING,
        corner_g=inputs["ecc_diff_g"],
        corner_load_g=inputs["ecc_load_g"],
    )
    found = net_uncertainty(scale, inputs["load_g"])
    return {"u_g": found.standard, "U_g": found.expanded}


@check("u_ratio")
def ratio(inputs: Inputs) -> Outputs:
    found = ratio_uncertainty(inputs["a_g"], inputs["b_g"], inputs["u_g"], inputs["u_g"])
    return {"rel_u_pct": 100.0 * found.standard, "rel_U_pct": 100.0 * found.expanded}


@check("min_weight")
def least_weight(inputs: Inputs) -> Outputs:
    tolerance = inputs["rel_tol_pct"] / 100.0
    return {"min_g": least_net_g(inputs["s_g"], inputs["d_g"], tolerance, inputs["k"])}


@check("min_weight_linear")
def least_weight_by_certificate(inputs: Inputs) -> Outputs:
    given = (inputs["alpha_g"], inputs["beta"], inputs["req"], inputs["safety"])
    return {"min_g": least_net_by_certificate_g(*given)}


@check("min_pot")
def least_pot(inputs: Inputs) -> Outputs:
    total_g = smallest_pot_g(inputs["parts"], inputs["U_g"], inputs["req_rel"])
    alone_g = smallest_pot_g([inputs["smallest"]], inputs["U_g"], inputs["req_rel"])
    return {"min_pot_g": total_g, "min_smallest_g": alone_g}


@check("buoyancy_ratio")
def air(inputs: Inputs) -> Outputs:
    densities = (inputs["rho1"] / 1000.0, inputs["rho2"] / 1000.0)
    return {"rel": buoyancy_ratio_error(*densities, inputs["rho_air"] / 1000.0)}


@check("water_ml_per_g")
def volume_of_water(inputs: Inputs) -> Outputs:
    density_g_ml = inputs["density_kg_m3"] / 1000.0
    return {"ml_per_g": buoyancy_factor(density_g_ml) / density_g_ml}


@check("guard_band")
def decision(inputs: Inputs) -> Outputs:
    return {"verdict": judged(inputs["error"], inputs["expanded"], inputs["limit"]).value}
