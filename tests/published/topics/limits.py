"""Topics of VOC limits: the shipped tables against what their sources say."""

from __future__ import annotations

from dataclasses import replace
from functools import lru_cache

from mixbench.mixing.limit_table import parse_limits
from mixbench.mixing.limits import Rule, compare_figure
from mixbench.resource import resource_path
from tests.published.checks import Inputs, Outputs, check


@lru_cache
def rule(name: str) -> Rule:
    """Return a shipped rule."""
    file = resource_path("limits") / f"{name}.toml"
    return parse_limits(file.read_text("utf-8"), file.name)


def both_units(name: str, words: dict[str, str]) -> Outputs:
    """Return g/l and lb/gal of each category, under the words that the source uses."""
    return {
        word: [rule(name).limit(category).value, float(rule(name).limit(category).also.split()[0])]
        for word, category in words.items()
    }


def grams(name: str, words: dict[str, str]) -> Outputs:
    """Return g/l of each category, under the words that the source uses."""
    return {word: rule(name).limit(category).value for word, category in words.items()}


EU = {
    ("a", "preparatory"): "a-prep",
    ("a", "pre-cleaner"): "a-pre-cleaner",
    ("b", "all types"): "b",
    ("c", "surfacer/filler and general (metal) primer"): "c",
    ("c", "wash primer"): "c-wash",
    ("d", "topcoat"): "d",
    ("e", "special finishes"): "e",
}


@check("limit_eu_2004_42_annex_II_B")
def eu_2004_42(inputs: Inputs) -> Outputs:
    category = EU[inputs["subcategory"], inputs["coating"]]
    return {"limit_g_L_ready_to_use": rule("eu_2004_42").limit(category).value}


@check("limit_de_chemvocfarbv_annex_II")
def de_chemvocfarbv(inputs: Inputs) -> Outputs:
    words = {
        "Vorbereitungsprodukte": "a-prep",
        "Vorreiniger": "a-pre-cleaner",
        "Spachtel und Spritzspachtel": "b",
        "Füller": "c",
        "Grundierungen": "c",
        "Wash-Primer": "c-wash",
        "Decklacke": "d",
        "Speziallacke": "e",
    }
    return grams("de_chemvocfarbv", words)


CANADA = {
    "primer surfacer": "primer-surfacer",
    "primer sealer": "primer-sealer",
    "pre-treatment wash primer": "wash-primer",
    "adhesion promoter": "adhesion-promoter",
    "colour coating": "colour",
    "uniform finish coating": "uniform-finish",
    "truck-bed liner": "bed-liner",
    "temporary protective": "temporary",
    "underbody": "underbody",
    "single-stage": "single-stage",
    "multi-colour": "multi-colour",
    "clear": "clear",
    "other coatings": "other",
    "surface cleaner": "cleaner",
}


@check("limit_canada_table")
def canada(inputs: Inputs) -> Outputs:
    return grams("ca_sor_2009_197", CANADA)


@check("limit_quebec_s38")
def quebec(inputs: Inputs) -> Outputs:
    return grams("ca_qc_clean_air_38", CANADA)


@check("limit_us_40cfr59_table1")
def us_40cfr59(inputs: Inputs) -> Outputs:
    words = {
        "pretreatment wash primer": "wash-primer",
        "primer/primer surfacer": "primer",
        "primer sealer": "sealer",
        "single/two-stage topcoat": "topcoat",
        "topcoat of 3+ stages": "topcoat-3",
        "multi-colored topcoat": "multi-colored",
        "specialty coating": "specialty",
    }
    return both_units("us_40cfr59_b", words)


@check("limit_carb_scm_2005")
def carb_2005(inputs: Inputs) -> Outputs:
    words = {
        "adhesion promoter": "adhesion-promoter",
        "clear": "clear",
        "color": "color",
        "multi-color": "multi-color",
        "pretreatment": "pretreatment",
        "primer": "primer",
        "single-stage": "single-stage",
        "temporary protective": "temporary",
        "truck bed liner": "bed-liner",
        "underbody": "underbody",
        "uniform finish": "uniform-finish",
        "any other": "other",
    }
    return grams("us_ca_carb_2005", words)


@check("limit_sacramento_rule_459")
def sacramento_459(inputs: Inputs) -> Outputs:
    words = {
        "adhesion promoter": "adhesion-promoter",
        "clear": "clear",
        "color": "color",
        "multi-color, other": "multi-color",
        "multi-color, rail": "multi-color-rail",
        "pretreatment": "pretreatment",
        "primer/primer sealer": "primer",
        "single-stage": "single-stage",
        "temporary protective": "temporary",
    }
    return both_units("us_ca_sacramento_459", words)


@check("unit: legal VOC factor")
def legal_factor(inputs: Inputs) -> Outputs:
    """Under a rule that states 119.95, a coating of that many g/l has exactly 1 lb/gal."""
    stated = replace(rule("us_ca_carb_2005").limit("clear"), unit="lb/gal", g_l_per_lb_gal=119.95)
    grams_per_litre = inputs["lb_gal"] * stated.g_l_per_lb_gal
    assert compare_figure(grams_per_litre, stated).figure == inputs["lb_gal"]
    return {"g_L": grams_per_litre}


@check("unit: county log shortcut")
def county_shortcut(inputs: Inputs) -> Outputs:
    stated = replace(rule("us_ca_carb_2005").limit("clear"), unit="lb/gal", g_l_per_lb_gal=120.0)
    return {"lb_gal": compare_figure(inputs["g_L"], stated).figure}
