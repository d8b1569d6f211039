"""The page of other pages: where to go, and how the window should look."""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum

from mixbench.gui.presenters.target import Rank, Target
from mixbench.i18n import _

LANGUAGES = {"en": "English", "de": "Deutsch"}


class Place(Enum):
    """What a press on this page means; the value is the name of its control."""

    START = "place_start"
    POTS = "place_pots"
    CHECK = "place_check"
    SCALE = "place_scale"
    WINDOW = "place_window"
    PLACES = "place_places"
    LOOK = "look"
    LANGUAGE = "language"
    FULL_SCREEN = "full_screen"


@dataclass(frozen=True, slots=True)
class PlacesState:
    """A title and up to five things to press."""

    title: str
    tiles: tuple[Target, ...]


def places_state() -> PlacesState:
    """Return the page of other pages."""
    return PlacesState(
        _("Other pages"),
        (
            Target(Place.START, _("Mix a pot"), _("recipe, amount, cup, pour"), Rank.TILE),
            Target(Place.POTS, _("Pots"), _("what was poured, and its record"), Rank.TILE),
            Target(Place.CHECK, _("Check the scale"), _("with a known weight"), Rank.TILE),
            Target(Place.SCALE, _("Find my scale"), _("port, shape of its lines"), Rank.TILE),
            Target(Place.WINDOW, _("This window"), _("look, language, size"), Rank.TILE),
        ),
    )


def window_state(*, dark: bool, language: str, full_screen: bool) -> PlacesState:
    """Return the page of how the window should look."""
    other = next_language(language)
    return PlacesState(
        _("This window"),
        (
            Target(
                Place.LOOK,
                _("Light") if dark else _("Dark"),
                _("for a lit room") if dark else _("for a dim room"),
                Rank.TILE,
            ),
            Target(Place.LANGUAGE, LANGUAGES[other], _("language"), Rank.TILE),
            Target(
                Place.FULL_SCREEN,
                _("In a window") if full_screen else _("Full screen"),
                "F11",
                Rank.TILE,
            ),
            Target(Place.PLACES, _("Other pages"), "", Rank.TILE),
        ),
    )


def next_language(language: str) -> str:
    """Return the language that a press on "language" changes to."""
    known = list(LANGUAGES)
    short = language.split("_")[0]
    at = known.index(short) if short in known else 0
    return known[(at + 1) % len(known)]
