"""A plan of a pot as text and as JSON: weights, bands, display figures, and whether it fits."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from mixbench.commands.layout import number, table
from mixbench.commands.ordering import Wanted
from mixbench.i18n import _
from mixbench.mixing.fit import fit
from mixbench.mixing.model import Cup, ScaleLimits, Targets

Json = dict[str, object]


@dataclass(frozen=True)
class Hold:
    """What the pot must fit into; None where the command line does not say."""

    cup: Cup | None
    scale: ScaleLimits | None

    def against(self, plan: Targets) -> list[str]:
        """Return every reason why a plan does not fit."""
        empty_g = 0.0 if self.cup is None or self.cup.empty_g is None else self.cup.empty_g
        return [problem.what for problem in fit(plan, self.cup, self.scale, empty_g)]


def plan_json(
    wanted: Wanted, plan: Targets, hold: Hold, adds_g: Sequence[float] | None = None
) -> Json:
    """Return a plan for a program; with ``adds_g`` what it adds to what is poured already."""
    rows: list[Json] = []
    for index, (code, product) in enumerate(
        zip(wanted.mix.codes, wanted.mix.products, strict=True)
    ):
        row: Json = {
            "code": code,
            "product": product.code,
            "name": product.name,
            "target_g": round(plan.mass_g[index], 3),
            "low_g": round(plan.low_g[index], 3),
            "high_g": round(plan.high_g[index], 3),
            "cumulative_g": round(plan.cumulative_g[index], 3),
        }
        if adds_g is not None:
            row["add_g"] = round(adds_g[index], 3)
        rows.append(row)
    against = hold.against(plan)
    said: Json = {
        "components": rows,
        "total_g": round(plan.total_g, 3),
        "volume_ml": round(plan.volume_ml, 3),
        "fits": not against,
        "reasons": against,
    }
    if hold.cup is not None:
        said["cup_fill"] = round(plan.volume_ml / hold.cup.capacity_ml, 4)
    if adds_g is not None:
        said["added_g"] = round(sum(adds_g), 3)
    return said


def plan_lines(
    wanted: Wanted, plan: Targets, hold: Hold, adds_g: Sequence[float] | None = None
) -> list[str]:
    """Return a plan for a person; with ``adds_g`` what it adds to what is poured already."""
    columns = [plan.mass_g, plan.low_g, plan.high_g, plan.cumulative_g]
    head = ["", _("target"), _("from"), _("to"), _("display")]
    if adds_g is not None:
        columns.append(tuple(adds_g))
        head.append(_("add"))
    rows = [
        [product.name, *(number(column[index]) for column in columns)]
        for index, product in enumerate(wanted.mix.products)
    ]
    pot = _("{mass} g = {volume} ml").format(
        mass=number(plan.total_g), volume=number(plan.volume_ml, 0)
    )
    lines = [*table(head, rows), f"{_('Pot')}: {pot}"]
    if hold.cup is not None:
        share = round(100 * plan.volume_ml / hold.cup.capacity_ml)
        lines.append(_("Cup {cup}: {share} % full").format(cup=hold.cup.name, share=share))
    return [
        *lines,
        *(_("Does not fit: {reason}").format(reason=reason) for reason in hold.against(plan)),
    ]
