"""Topics of cure chemistry: equivalents, ratios, index."""

from __future__ import annotations

from mixbench.mixing import equivalents
from mixbench.mixing.cure import index_of
from mixbench.mixing.model import Product
from tests.published.checks import Inputs, Outputs, check

CONVENTION_4200 = 42.0
"""The sources of several rows take 4200 / %NCO."""


@check("isocyanate_equivalent_weight")
def isocyanate_equivalent_weight(inputs: Inputs) -> Outputs:
    nco = inputs["nco_pct"] / 100.0
    return {"ew_g_eq": equivalents.isocyanate_equivalent_g(nco, group_g_mol=CONVENTION_4200)}


@check("polyol_equivalent_weight")
def polyol_equivalent_weight(inputs: Inputs) -> Outputs:
    equivalent_g = equivalents.hydroxyl_equivalent_g(inputs["oh_number"])
    return {"ew_g_eq": equivalent_g, "mw_g_mol": equivalent_g * inputs["functionality"]}


@check("nco_pct_from_equivalent_weight")
def nco_from_equivalent_weight(inputs: Inputs) -> Outputs:
    outputs = {
        "nco_pct": 100.0 * equivalents.nco_fraction(inputs["nco_ew"], group_g_mol=CONVENTION_4200)
    }
    if "oh_ew" in inputs:
        # The value and the equivalent weight are each other's quotient of 56100.
        outputs["oh_number"] = equivalents.hydroxyl_equivalent_g(inputs["oh_ew"])
    return outputs


@check("isocyanate_per_100_polyol")
def isocyanate_per_100_polyol(inputs: Inputs) -> Outputs:
    parts = equivalents.parts_per_hundred(
        equivalents.isocyanate_equivalent_g(inputs["nco_pct"] / 100.0),
        equivalents.hydroxyl_equivalent_g(inputs["oh_number"]),
        inputs["index"],
    )
    return {"parts_per_100": parts}


@check("isocyanate_for_resin")
def isocyanate_for_resin(inputs: Inputs) -> Outputs:
    parts = equivalents.parts_per_hundred(inputs["nco_ew"], inputs["oh_ew"], inputs["index"])
    return {"isocyanate_g": parts * inputs["resin_g"] / 100.0}


@check("isocyanate_for_polyol_and_water")
def isocyanate_for_polyol_and_water(inputs: Inputs) -> Outputs:
    polyol = equivalents.polyol_groups(inputs["oh_number"], inputs["acid_number"])
    with_water = equivalents.polyol_groups(
        inputs["oh_number"], inputs["acid_number"], inputs["water_parts"] / 100.0
    )
    parts = 100.0 * inputs["isocyanate_ew"]
    return {
        "for_polyol": parts * polyol,
        "stoichiometric": parts * with_water,
        "at_index": parts * with_water * inputs["index"],
    }


@check("index_of_pot")
def index_of_pot(inputs: Inputs) -> Outputs:
    resin = Product("R", "resin", "base", 1.0, 20.0, equivalent_g_mol=inputs["oh_ew"])
    hardener = Product("H", "hardener", "hardener", 1.1, 20.0, equivalent_g_mol=inputs["nco_ew"])
    return {"index": index_of([resin, hardener], [inputs["resin_g"], inputs["isocyanate_g"]])}


@check("equivalent_weight_of_water")
def equivalent_weight_of_water(inputs: Inputs) -> Outputs:
    equivalent_g = equivalents.amine_hydrogen_equivalent_g(
        inputs["mw"], inputs["reactive_hydrogens"]
    )
    assert equivalent_g == equivalents.WATER_EQUIVALENT_G
    return {"ew": equivalent_g}


@check("epoxy_equivalent_weight_of_blend")
def epoxy_equivalent_weight_of_blend(inputs: Inputs) -> Outputs:
    masses = [part["wt"] for part in inputs["parts"]]
    weights = [part["eew"] for part in inputs["parts"]]
    return {"eew": equivalents.blend_equivalent_g(masses, weights)}


@check("amine_hydrogen_equivalent")
def amine_hydrogen_equivalent(inputs: Inputs) -> Outputs:
    ahew = equivalents.amine_hydrogen_equivalent_g(inputs["mw"], inputs["active_h"])
    return {"ahew": ahew}


@check("epoxy_phr")
def epoxy_phr(inputs: Inputs) -> Outputs:
    return {"phr": equivalents.parts_per_hundred(inputs["ahew"], inputs["eew"])}


@check("epoxy_curative_mass")
def epoxy_curative_mass(inputs: Inputs) -> Outputs:
    phr = equivalents.parts_per_hundred(inputs["ahew"], inputs["eew"])
    return {"phr": phr, "curative_g": phr * inputs["resin_g"] / 100.0}
