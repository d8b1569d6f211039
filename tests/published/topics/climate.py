"""Dew point, times by temperature, flow cups, gun pressure: the booth's own figures.

Rows and their sources: ``data/mixing.csv`` and ``data/booth.csv``.
"""

from __future__ import annotations

from mixbench.mixing.climate import Magnus, condensation, dew_point
from mixbench.mixing.gun import Coat, bar_to_psi, parse_coats, psi_to_bar
from mixbench.mixing.sheet_times import At, SheetPoint, time_at
from mixbench.mixing.tempering import BARE_PLASTIC, soak
from mixbench.mixing.viscosity import cup_named, viscosity_mm2_s
from tests.published.checks import Inputs, Outputs, check

HOUR_S = 3600.0
MINUTE_S = 60.0
PA_PER_BAR = 100_000.0


@check("dew_point")
@check("dew_point_table")
def dew(inputs: Inputs) -> Outputs:
    return {"dew_point_C": dew_point(inputs["T_C"], inputs["RH_pct"]).dew_c}


@check("dew_point_fahrenheit")
def dew_in_fahrenheit(inputs: Inputs) -> Outputs:
    point = dew_point((inputs["T_F"] - 32.0) / 1.8, inputs["RH_pct"])
    return {"dew_point_F": point.dew_c * 1.8 + 32.0}


@check("dew_point_reference")
def dew_against_libraries(inputs: Inputs) -> Outputs:
    wmo_c, other_c = (
        dew_point(inputs["T_C"], inputs["RH_pct"], form).dew_c
        for form in (Magnus.WMO, Magnus.ALDUCHOV_ESKRIDGE)
    )
    return {
        "psychrolib": wmo_c,
        "metpy": wmo_c,
        "magnus_17.62_243.12": wmo_c,
        "magnus_17.625_243.04": other_c,
    }


@check("dew_point_frost_trap")
def frost(inputs: Inputs) -> Outputs:
    point = dew_point(inputs["T_C"], inputs["RH_pct"])
    return {
        "psychrolib_frost_point": point.frost_c,
        "magnus_17.62_243.12_dew_point": point.dew_c,
    }


@check("dew_point_go_no_go")
def surface(inputs: Inputs) -> Outputs:
    given = (inputs["T_C"], inputs["RH_pct"], inputs["surface_C"], inputs["margin_C"])
    found = condensation(*given)
    return {"dew_point_C": found.point.dew_c, "ok": found.dry}


@check("pot_life_temperature_rule")
def pot_life_in_hours(inputs: Inputs) -> Outputs:
    point = SheetPoint(inputs["pot_life_h_at_21C"] * HOUR_S, 21.0)
    return {"pot_life_h": time_at([point], inputs["T_C"], rule_of_thumb=True).time_s / HOUR_S}


@check("rule_of_thumb_min")
def by_rule_of_thumb(inputs: Inputs) -> Outputs:
    point = SheetPoint(inputs["known_min"] * MINUTE_S, inputs["at_C"])
    found = time_at([point], inputs["T_C"], At(inputs["of"]), rule_of_thumb=True)
    return {"min": found.time_s / MINUTE_S, "origin": found.origin.value}


@check("tempering")
def warm_part(inputs: Inputs) -> Outputs:
    part = soak([(0.0, inputs["object_C"]), (inputs["min"] * MINUTE_S, inputs["object_C"])])
    needs_min = BARE_PLASTIC.time_s / MINUTE_S
    return {"done": part.done, "too_hot": part.too_hot, "needs_min": needs_min}


@check("ford_cup_to_cst")
def ford(inputs: Inputs) -> Outputs:
    return _flow(f"ASTM D1200 no. {inputs['cup']}", inputs)


@check("iso_cup_to_cst")
def iso(inputs: Inputs) -> Outputs:
    return _flow(f"ISO 2431 {inputs['cup_mm']} mm", inputs)


@check("zahn_cup_to_cst")
def zahn(inputs: Inputs) -> Outputs:
    return _flow(f"Zahn {inputs['cup']}", inputs)


@check("flow_cup")
def named_cup(inputs: Inputs) -> Outputs:
    return _flow(inputs["cup"], inputs)


@check("unit: psi -> Pa")
def psi(inputs: Inputs) -> Outputs:
    return {"Pa": psi_to_bar(inputs["psi"]) * PA_PER_BAR}


@check("inlet_pressure")
def gauge(inputs: Inputs) -> Outputs:
    return {"psi": bar_to_psi(inputs["bar"])}


@check("coats")
def coats(inputs: Inputs) -> Outputs:
    found = parse_coats(inputs["text"])
    return {
        "halves": found.count(Coat.HALF),
        "fulls": found.count(Coat.FULL),
        "counted": sum(coat.value for coat in found),
    }


def _flow(name: str, inputs: Inputs) -> Outputs:
    return {"cSt": viscosity_mm2_s(inputs["seconds"], cup_named(name))}
