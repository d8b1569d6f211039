"""Topics of units: what people write, in the unit of the program."""

from __future__ import annotations

from fractions import Fraction

from mixbench.mixing.panels import parse_panels
from mixbench.mixing.units import convert
from tests.published.checks import Inputs, Outputs, check


def converted(number: float, unit: str, into: str) -> float:
    """Return a number in another unit; the two must be of one kind."""
    value = convert(Fraction(number), unit, into)
    assert value is not None
    return float(value)


@check("unit: US fl oz -> mL")
def us_fluid_ounce(inputs: Inputs) -> Outputs:
    return {"mL": converted(inputs["floz"], "US fl oz", "ml")}


@check("unit: US qt -> mL")
def us_quart(inputs: Inputs) -> Outputs:
    return {"mL": converted(inputs["qt"], "US qt", "ml")}


@check("unit: imp gal -> L")
def imperial_gallon(inputs: Inputs) -> Outputs:
    return {"L": converted(inputs["imp_gal"], "imp gal", "l")}


@check("unit: imp fl oz -> mL")
def imperial_fluid_ounce(inputs: Inputs) -> Outputs:
    return {"mL": converted(inputs["imp_floz"], "imp fl oz", "ml")}


@check("unit: oz av -> g")
def ounce(inputs: Inputs) -> Outputs:
    return {"g": converted(inputs["oz"], "oz", "g")}


@check("unit: mil -> um")
def mil(inputs: Inputs) -> Outputs:
    return {"um": converted(inputs["mil"], "mil", "um")}


@check("unit: lb/US gal -> g/L")
def pounds_per_us_gallon(inputs: Inputs) -> Outputs:
    return {"g_L": converted(inputs["lb_gal"], "lb/gal", "g/l")}


@check("unit: lb/imp gal -> g/L")
def pounds_per_imperial_gallon(inputs: Inputs) -> Outputs:
    return {"g_L": converted(inputs["lb_imp_gal"], "lb/imp gal", "g/l")}


def square_feet_in_m2(square_feet: float) -> float:
    """Return an area as the shop's table of panels reads it."""
    table = f'[panels.one]\nname = "One"\narea = "{square_feet} ft2"'
    return parse_panels(table, "a panel of the source")["one"].area_m2


@check("unit: ft2 -> m2")
def square_foot(inputs: Inputs) -> Outputs:
    return {"m2": square_feet_in_m2(inputs["ft2"])}


@check("unit: ft2/US gal -> m2/L")
def square_feet_per_gallon(inputs: Inputs) -> Outputs:
    return {"m2_L": square_feet_in_m2(inputs["ft2_gal"]) / converted(1.0, "US gal", "l")}
