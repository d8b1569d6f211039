"""Every look of the Start page, the Pots page and the page of other pages."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, replace
from pathlib import Path

from mixbench.errors import AmountError, Problem, RecipeError
from mixbench.gui.presenters.check_words import CareNote
from mixbench.gui.presenters.places import places_state, window_state
from mixbench.gui.presenters.pots import PotsPresenter
from mixbench.gui.presenters.pour_state import Action
from mixbench.gui.presenters.start import StartPresenter
from mixbench.gui.presenters.start_state import StartAction
from mixbench.ledger.library import RecipeFile, RecipeLibrary
from mixbench.ledger.pots import PotRow
from mixbench.ledger.shop import Shop
from mixbench.mixing.fit import fit
from mixbench.mixing.model import Amount, Component, Cup, Mix, Recipe, ScaleLimits, Share, Tolerance
from mixbench.mixing.targets import reference_for, targets
from mixbench.pouring.control import Order
from tests.helpers.check_scenes import CHECK_SCENES
from tests.helpers.find_scenes import FIND_SCENES, find_on
from tests.helpers.pots import simple_mix
from tests.helpers.pour_bench import NOON_MS
from tests.helpers.pour_scenes import overpoured_enough, tint_order

CUPS = (Cup("Cup 180", 180.0, 8.0), Cup("Cup 400", 400.0, 18.0), Cup("Cup 700", 700.0, 27.0))


def recipe(
    name: str, kind: str, mix: Mix | None = None, *, by: str = "volume", **choices: tuple[str, ...]
) -> Recipe:
    """Return an invented recipe."""
    mix = mix or simple_mix()
    return Recipe(
        code=name.upper(),
        name=name,
        version="3",
        kind=kind,
        reference=mix.codes[0],
        products={product.code: product for product in mix.products},
        components=tuple(
            Component(code, product.code, Share(ratio * 4, by), Tolerance())
            for code, product, ratio in zip(mix.codes, mix.products, mix.ratio, strict=True)
        ),
        choices=choices,
        pot_life=(),
        hash="0" * 64,
        source=f"{name}.toml",
    )


@dataclass(frozen=True)
class StandInFile(RecipeFile):
    """A recipe file whose content is already known."""

    content: Recipe | None = None

    def recipe(self) -> Recipe:
        if self.content is None:
            raise RecipeError(
                self.path.name,
                (
                    Problem("component 2 (HARD), share", "has no unit.", 'Write "10 %".'),
                    Problem("product HARD-M, density", "is missing.", 'Write "1.02 g/ml".'),
                    Problem("pot life", "has no temperature.", 'Write at = "20 degC".'),
                ),
            )
        return self.content


SURFACER = recipe(
    "Surfacer 4:1:1",
    "primer surfacer",
    substrate=(
        "primed metal",
        "bare plastic",
        "galvanised",
        "aluminium",
        "composite",
        "old finish",
    ),
    shade=("white", "grey", "black"),
)
CLEAR = recipe("Clear fast", "clear")
TINTED = recipe("Basecoat Nightfall", "basecoat", tint_order().mix, by="mass")


def file_of(content: Recipe) -> RecipeFile:
    return StandInFile(
        Path(content.source), content.code, content.name, content.kind, "3", content=content
    )


BROKEN = StandInFile(Path("sealer.toml"), "SEAL", "Sealer wet-on-wet", "sealer", "1")
FEW = (file_of(SURFACER), file_of(CLEAR), file_of(TINTED), BROKEN)
MANY = tuple(
    file_of(replace(one, name=f"{one.name} {count}", source=f"{one.name}{count}.toml"))
    for one in (SURFACER, CLEAR, TINTED)
    for count in range(1, 7)
)


class StandInCounter:
    """Checks orders against cups without a bench."""

    def __init__(self, cups: tuple[Cup, ...] = CUPS, waiting: PotRow | None = None) -> None:
        self.shop = Shop("Demo", cups, {})
        self._waiting = waiting

    def order(
        self, recipe: Recipe, choices: Mapping[str, str], wanted: Amount, cup: Cup, *, job: str = ""
    ) -> Order:
        mix = tint_order().mix if recipe.kind == "basecoat" else simple_mix()
        reference_g = reference_for(mix, wanted)
        scale = ScaleLimits(6200.0, 0.1)
        against = fit(targets(mix, reference_g), cup, scale, cup.empty_g or 0.0)
        if against:
            raise AmountError(
                " ".join(one.what for one in against),
                remedy=" ".join(one.remedy for one in against),
            )
        return Order(recipe, choices, mix, wanted, reference_g, cup, scale, "hdr2", "x", job=job)

    def unfinished(self) -> PotRow | None:
        return self._waiting


class Nowhere:
    """Ways out that lead nowhere, kept."""

    def __init__(self) -> None:
        self.taken: list[object] = []

    def begin(self, order: Order) -> None:
        self.taken.append(order)

    def resume(self) -> None:
        self.taken.append("resume")

    def other_pages(self) -> None:
        self.taken.append("other pages")

    def check_scale(self) -> None:
        self.taken.append("check the scale")


def pot_row(number: int, **changes: object) -> PotRow:
    """Return a finished pot of the list."""
    row = PotRow(
        f"B1-{number}", number, "left door", "S", "Surfacer 4:1:1", "3", "ana",
        NOON_MS, NOON_MS + 600_000, "finished", "in band", 329_600, 1, 1, 9,
    )  # fmt: skip
    return replace(row, **changes)


class StandInPots:
    """A list of pots whose stories come from one real pour."""

    def __init__(self, rows: tuple[PotRow, ...]) -> None:
        self._rows = rows
        bench = overpoured_enough()
        bench.press(Action.GO_ON).scan("7K-0412").pour(102.0).scan("T-9").pour(20.5, 5.0)
        self._entries = tuple(bench.journal.entries())

    def latest(self, limit: int = 50, before_seq: int | None = None) -> tuple[PotRow, ...]:
        return self._rows[:limit]

    def entries(self, row: PotRow) -> Iterable[object]:
        return self._entries


ROWS = (
    pot_row(7, job="bonnet, roof", recipe_name="Clear fast", overpours=0, total_mg=540_200),
    pot_row(6, state="abandoned", verdict="thrown away at the scale"),
    pot_row(5, verdict="deviation accepted"),
    pot_row(4, recipe_name="Basecoat Nightfall", job="", total_mg=1_204_300, overpours=0),
    pot_row(3),
)


def start_on(files=FEW, cups=CUPS, waiting=None, press=(), type_="", note=None):
    """Return what shows a Start page after some presses."""

    def show(window: object, language: str) -> None:
        library = RecipeLibrary(Path("recipes"), files)
        presenter = StartPresenter(
            library,
            StandInCounter(cups, waiting),
            window.start,
            Nowhere(),
            language=language,
            care=lambda: note,
        )
        presenter.refresh()
        while presenter.load_next():
            pass
        for action in press:
            presenter.act(action)
        for letter in type_:
            presenter.typed(letter)
        presenter.refresh()
        window.show_page(window.start)

    return show


def pots_on(rows=ROWS, verdict="", *, intact=True):
    """Return what shows a Pots page."""

    def show(window: object, language: str) -> None:
        presenter = PotsPresenter(
            StandInPots(rows),
            window.pots,
            check=lambda: None,
            other_pages=lambda: None,
            language=language,
        )
        presenter.open()
        if verdict:
            presenter.verified(verdict, intact=intact)
        window.show_page(window.pots)

    return show


def places(window: object, language: str) -> None:
    window.places.render_state(places_state())
    window.show_page(window.places)


def this_window(window: object, language: str) -> None:
    window.places.render_state(window_state(dark=window.dark, language=language, full_screen=False))
    window.show_page(window.places)


def check_on(name):
    """Return what shows the page on which the scale is checked."""

    def show(window: object, language: str) -> None:
        CHECK_SCENES[name](view=window.check, language=language)
        window.show_page(window.check)

    return show


ONE, TWO, THREE, FOUR = (
    StartAction.TILE_0, StartAction.TILE_1, StartAction.TILE_2, StartAction.TILE_3,
)  # fmt: skip
UNCHECKED = "The check of this scale is overdue."
PAGES: dict[str, Callable[[object, str], None]] = {
    "start-recipes": start_on(),
    "start-none": start_on(files=()),
    "start-kinds": start_on(files=MANY),
    "start-kind-recipes": start_on(files=MANY, press=(ONE,)),
    "start-broken": start_on(press=(FOUR,)),
    "start-substrate": start_on(press=(ONE,)),
    "start-shade": start_on(press=(ONE, TWO)),
    "start-amount": start_on(press=(TWO,)),
    "start-keypad": start_on(press=(TWO, FOUR), type_="350"),
    "start-keypad-refused": start_on(press=(TWO, FOUR, StartAction.DONE)),
    "start-cups": start_on(press=(TWO, TWO)),
    "start-no-cup": start_on(press=(TWO, THREE), cups=CUPS[:2]),
    "start-no-cups": start_on(press=(TWO, THREE), cups=()),
    "start-summary": start_on(press=(ONE, ONE, ONE, TWO, ONE)),
    "start-summary-long": start_on(press=(THREE, TWO, ONE)),
    "start-unchecked": start_on(note=CareNote(UNCHECKED)),
    "start-locked": start_on(note=CareNote(UNCHECKED, locks=True)),
    "start-half-poured": start_on(waiting=pot_row(7, state="open")),
    "pots": pots_on(verdict="41 entries, unbroken; anchored up to entry 41 by label B1-6."),
    "pots-unchecked": pots_on(),
    "pots-broken": pots_on(
        verdict="NOT intact: entry 12 is not what was recorded. The first 11 entries fit.",
        intact=False,
    ),
    "pots-none": pots_on(rows=()),
    "places": places,
    "places-window": this_window,
    **{f"check-{name}": check_on(name) for name in CHECK_SCENES},
    **{f"find-{name}": find_on(*steps) for name, steps in FIND_SCENES.items()},
}
