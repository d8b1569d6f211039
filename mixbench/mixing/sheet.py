"""The sheet of one job: the process data that the choices pick, and its times at a temperature."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import TypeVar

from mixbench.errors import MissingFigureError
from mixbench.i18n import _
from mixbench.mixing.gun import GunCard
from mixbench.mixing.model import PotLife, Recipe
from mixbench.mixing.process import (
    NEXT_COAT,
    Coats,
    Drying,
    FlashOff,
    GunSet,
    Line,
    Overcoat,
)
from mixbench.mixing.sheet_times import At, SheetPoint, SheetTime, time_at
from mixbench.mixing.tempering import Tempering
from mixbench.mixing.variants import chosen_values, picks

T = TypeVar("T")


@dataclass(frozen=True, slots=True)
class Sheet:
    """What a sheet says for one job; empty or None where it is silent.

    Attributes
    ----------
    coats, gun
        How it is sprayed.
    pot_life, flash_off, overcoat, drying
        Its times, one for each temperature given.
    tempering
        What the bare part needs before.
    """

    coats: Coats | None
    gun: GunSet | None
    pot_life: tuple[PotLife, ...]
    flash_off: tuple[FlashOff, ...]
    overcoat: tuple[Overcoat, ...]
    drying: tuple[Drying, ...]
    tempering: Tempering | None

    @property
    def gun_card(self) -> GunCard | None:
        """The gun card; None unless the sheet gives both gun and coats."""
        if self.gun is None or self.coats is None:
            return None
        return GunCard(
            self.gun.nozzle_mm, self.gun.inlet_bar, self.coats.coats, self.gun.distance_mm
        )

    @property
    def stages(self) -> tuple[str, ...]:
        """What the coating is dried to, in the order of the sheet."""
        return tuple(dict.fromkeys(each.to for each in self.drying))

    def pot_life_at(self, booth_c: float, *, rule_of_thumb: bool = False) -> SheetTime:
        """Return the pot life at a temperature [s].

        Parameters
        ----------
        booth_c
            Temperature of the mixed paint [°C].
        rule_of_thumb
            Whether to go on beyond the sheet, marked; see `mixbench.mixing.sheet_times.time_at`.

        Raises
        ------
        MissingFigureError, ValidityError, RangeError
            As `mixbench.mixing.sheet_times.time_at`.

        Examples
        --------
        >>> life = (PotLife(3600.0, 20.0), PotLife(1800.0, 30.0))
        >>> sheet = Sheet(None, None, life, (), (), (), None)
        >>> sheet.pot_life_at(20.0).time_s
        3600.0

        References
        ----------
        As `mixbench.mixing.sheet_times.time_at`.
        """
        return time_at(self.pot_life, booth_c, rule_of_thumb=rule_of_thumb)

    def flash_off_at(
        self, booth_c: float, before: str = NEXT_COAT, *, rule_of_thumb: bool = False
    ) -> SheetTime:
        """Return how long solvent must leave before the next coat or the oven [s].

        Parameters
        ----------
        booth_c
            Temperature of the booth [°C].
        before
            ``next coat`` or ``oven``.
        rule_of_thumb
            As `pot_life_at`.

        Raises
        ------
        MissingFigureError, ValidityError, RangeError
            As `pot_life_at`.

        Examples
        --------
        >>> sheet = Sheet(None, None, (), (FlashOff(300.0, 20.0),), (), (), None)
        >>> sheet.flash_off_at(20.0).time_s
        300.0

        References
        ----------
        As `pot_life_at`.
        """
        fitting = [each for each in self.flash_off if each.before == before]
        return time_at(fitting, booth_c, rule_of_thumb=rule_of_thumb)

    def overcoat_at(
        self, booth_c: float, *, rule_of_thumb: bool = False
    ) -> tuple[SheetTime, SheetTime | None]:
        """Return from when until when the next product may follow; None where nothing ends it [s].

        Parameters
        ----------
        booth_c
            Temperature of the booth [°C].
        rule_of_thumb
            As `pot_life_at`.

        Raises
        ------
        MissingFigureError, ValidityError, RangeError
            As `pot_life_at`.

        Examples
        --------
        >>> sheet = Sheet(None, None, (), (), (Overcoat(300.0, None, 20.0),), (), None)
        >>> after, until = sheet.overcoat_at(20.0)
        >>> after.time_s, until
        (300.0, None)

        References
        ----------
        As `pot_life_at`.
        """
        after = [SheetPoint(each.after_s, each.at_c) for each in self.overcoat]
        until = [
            SheetPoint(each.until_s, each.at_c)
            for each in self.overcoat
            if each.until_s is not None
        ]
        ends = time_at(until, booth_c, rule_of_thumb=rule_of_thumb) if until else None
        return time_at(after, booth_c, rule_of_thumb=rule_of_thumb), ends

    def drying_at(
        self, to: str, at_c: float, at: At = At.BOOTH, *, rule_of_thumb: bool = False
    ) -> SheetTime:
        """Return how long the coating dries to a stage [s].

        Parameters
        ----------
        to
            One of `stages`.
        at_c
            Temperature of the booth or of the object [°C].
        at
            Whose temperature that is.
        rule_of_thumb
            As `pot_life_at`.

        Raises
        ------
        MissingFigureError
            The sheet does not dry to this stage, or not at this kind of temperature.
        ValidityError, RangeError
            As `pot_life_at`.

        Notes
        -----
        A panel that dries in the booth has the booth's temperature, so the booth's rows also hold
        for the object; a warm object in a cool booth tells nothing of the booth.

        Examples
        --------
        >>> rows = (Drying("dry", 3600.0, 20.0, At.BOOTH), Drying("dry", 1200.0, 40.0, At.OBJECT))
        >>> sheet = Sheet(None, None, (), (), (), rows, None)
        >>> round(sheet.drying_at("dry", 30.0, At.OBJECT).time_s / 60.0, 1)
        34.6

        References
        ----------
        As `pot_life_at`.
        """
        if to not in self.stages:
            raise MissingFigureError(
                _("The sheet does not say when it is {stage}.").format(stage=to),
                remedy=_("It says: {stages}.").format(stages=", ".join(self.stages) or _("none")),
            )
        fitting = [
            each for each in self.drying if each.to == to and (at is At.OBJECT or each.at is at)
        ]
        return time_at(fitting, at_c, at, rule_of_thumb=rule_of_thumb)


def sheet_for(recipe: Recipe, choices: Mapping[str, str]) -> Sheet:
    """Return what the sheet says for one job.

    Parameters
    ----------
    recipe
        A recipe as `mixbench.mixing.recipe.parse_recipe` returns it.
    choices
        One value for each axis of the recipe, as for `mixbench.mixing.variants.mix_for`.

    Raises
    ------
    ChoiceError
        The choices do not pick one variant.

    Examples
    --------
    >>> from mixbench.mixing.recipe import parse_recipe
    >>> from mixbench.resource import demo_shop_path
    >>> file = demo_shop_path() / "recipes" / "surfacer.toml"
    >>> recipe = parse_recipe(file.read_text("utf-8"), file.name)
    >>> sheet = sheet_for(recipe, {"substrate": "bare plastic", "shade": "black"})
    >>> sheet.gun_card.lines[-1]
    '1 half coat, then 1 full coat'
    """
    values = chosen_values(recipe, choices)
    process = recipe.process

    def chosen(table: Iterable[Line[T]]) -> tuple[T, ...]:
        return tuple(line.value for line in table if picks(line.when, values))

    return Sheet(
        coats=next(iter(chosen(process.coats)), None),
        gun=next(iter(chosen(process.gun)), None),
        pot_life=recipe.pot_life,
        flash_off=chosen(process.flash_off),
        overcoat=chosen(process.overcoat),
        drying=chosen(process.drying),
        tempering=next(iter(chosen(process.tempering)), None),
    )
