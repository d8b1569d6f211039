"""The control recipe: a recipe scaled for one pot and frozen in whole numbers.

ISA-88 (IEC 61512) calls the copy of a master recipe that one batch works from its control recipe.
It is written into ``pot-started`` and never recomputed.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from mixbench.mixing.model import Amount, Cup, Mix, Product, Recipe, ScaleLimits
from mixbench.mixing.targets import targets
from mixbench.pouring.facts import Body, from_ppb, to_g, to_mg, to_ppb

KELVIN_OFFSET_MK = 273_150


@dataclass(frozen=True, slots=True)
class Control:
    """What one pot works from.

    ``reference_g`` is the mass of the reference component asked for; ``pot_life`` holds pairs of
    time [s] and temperature [degC].
    """

    pot: str
    number: int
    job: str
    recipe_code: str
    recipe_name: str
    recipe_version: str
    recipe_hash: str
    choices: Mapping[str, str]
    mix: Mix
    reference_g: float
    cup: Cup
    scale: ScaleLimits
    profile: str
    port: str
    temperature_c: float
    pot_life: tuple[tuple[float, float], ...]


@dataclass(frozen=True, slots=True)
class Order:
    """What a painter asks for: the pot that is about to be started.

    ``scale_id`` tells the scale apart from others; empty: profile and port do.
    """

    recipe: Recipe
    choices: Mapping[str, str]
    mix: Mix
    wanted: Amount
    reference_g: float
    cup: Cup
    scale: ScaleLimits
    profile: str
    port: str
    temperature_c: float = 20.0
    job: str = ""
    scale_id: str = ""


def start_body(order: Order, pot: str, number: int, check: int | None = None) -> Body:
    """Return the body of ``pot-started`` for an order.

    ``check`` is the entry of the scale's check in force, or None.
    """
    plan = targets(order.mix, order.reference_g)
    components = [
        {
            "code": code,
            "product": product.code,
            "name": product.name,
            "role": product.role,
            "density_ug_ml": round(order.mix.density_g_ml[index] * 1_000_000),
            "ratio_ppb": to_ppb(order.mix.ratio[index]),
            "low_ppb": to_ppb(order.mix.low[index]),
            "high_ppb": to_ppb(order.mix.high[index]),
            "target_mg": to_mg(plan.mass_g[index]),
            "low_mg": to_mg(plan.low_g[index]),
            "high_mg": to_mg(plan.high_g[index]),
        }
        for index, (code, product) in enumerate(
            zip(order.mix.codes, order.mix.products, strict=True)
        )
    ]
    wanted = (
        {"volume_ul": round(order.wanted.volume_ml * 1000)}
        if order.wanted.volume_ml is not None
        else {"mass_mg": to_mg(order.wanted.mass_g or 0.0)}
    )
    return {
        "pot": pot,
        "number": number,
        "job": order.job,
        "recipe": {
            "code": order.recipe.code,
            "name": order.recipe.name,
            "version": order.recipe.version,
            "hash": order.recipe.hash,
        },
        "choices": dict(order.choices),
        "wanted": wanted,
        "reference": order.mix.codes[order.mix.reference],
        "reference_mg": to_mg(order.reference_g),
        "components": components,
        "total_mg": to_mg(plan.total_g),
        "volume_ul": round(plan.volume_ml * 1000),
        "cup": {
            "name": order.cup.name,
            "capacity_ul": round(order.cup.capacity_ml * 1000),
            "empty_mg": None if order.cup.empty_g is None else to_mg(order.cup.empty_g),
        },
        "scale": {
            "profile": order.profile,
            "port": order.port,
            "capacity_mg": to_mg(order.scale.capacity_g),
            "step_ug": round(order.scale.step_g * 1_000_000),
            "id": order.scale_id,
        },
        "check": check,
        "temperature_mk": round(order.temperature_c * 1000) + KELVIN_OFFSET_MK,
        "pot_life": [
            {"time_ms": round(life.time_s * 1000), "at_mk": _to_mk(life.at_c)}
            for life in order.recipe.pot_life
        ],
    }


def control_from(body: Body) -> Control:
    """Return the control recipe held in the body of ``pot-started``."""
    lines = body["components"]
    mix = Mix(
        codes=tuple(line["code"] for line in lines),
        products=tuple(_product(line) for line in lines),
        reference=[line["code"] for line in lines].index(body["reference"]),
        ratio=tuple(from_ppb(line["ratio_ppb"]) for line in lines),
        low=tuple(from_ppb(line["low_ppb"]) for line in lines),
        high=tuple(from_ppb(line["high_ppb"]) for line in lines),
        density_g_ml=tuple(line["density_ug_ml"] / 1_000_000 for line in lines),
    )
    cup, scale, recipe = body["cup"], body["scale"], body["recipe"]
    empty_mg = cup["empty_mg"]
    return Control(
        pot=body["pot"],
        number=body["number"],
        job=body["job"],
        recipe_code=recipe["code"],
        recipe_name=recipe["name"],
        recipe_version=recipe["version"],
        recipe_hash=recipe["hash"],
        choices=dict(body["choices"]),
        mix=mix,
        reference_g=to_g(body["reference_mg"]),
        cup=Cup(
            cup["name"], cup["capacity_ul"] / 1000, None if empty_mg is None else to_g(empty_mg)
        ),
        scale=ScaleLimits(to_g(scale["capacity_mg"]), scale["step_ug"] / 1_000_000),
        profile=scale["profile"],
        port=scale["port"],
        temperature_c=_to_c(body["temperature_mk"]),
        pot_life=tuple((life["time_ms"] / 1000, _to_c(life["at_mk"])) for life in body["pot_life"]),
    )


def _product(line: Body) -> Product:
    return Product(
        code=line["product"],
        name=line["name"],
        role=line["role"],
        density_g_ml=line["density_ug_ml"] / 1_000_000,
        density_at_c=20.0,
    )


def _to_mk(temperature_c: float) -> int:
    return round(temperature_c * 1000) + KELVIN_OFFSET_MK


def _to_c(temperature_mk: int) -> float:
    return (temperature_mk - KELVIN_OFFSET_MK) / 1000
