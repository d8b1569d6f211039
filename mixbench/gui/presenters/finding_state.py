"""What the page "Find my scale" shows: one step at a time, raw bytes beside the reading."""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum

from mixbench.gui.presenters.target import Target


class FindAction(Enum):
    """What a press on this page means; the value is the name of its control."""

    TILE_0 = "find_1"
    TILE_1 = "find_2"
    TILE_2 = "find_3"
    OTHER_PAGES = "other_pages"
    PORTS = "ports"
    MORE = "more_ports"
    LOOK_AGAIN = "look_again"
    TRY = "try_address"
    STOP = "stop_search"
    ANOTHER = "another_shape"
    USE = "use_scale"
    BACK = "back"
    NEXT = "next"
    MIX = "mix_a_pot"
    RUB_OUT = "rub_out"


TILES = (FindAction.TILE_0, FindAction.TILE_1, FindAction.TILE_2)


@dataclass(frozen=True, slots=True)
class FindPageState:
    """Everything the page shows.

    Attributes
    ----------
    title
        The question, or what is being done.
    answered
        The port and what is known of it.
    tiles
        Things to pick from.
    reading
        The weight in words; empty when there is none.
    raw
        The newest bytes as text, oldest line first; control characters written out.
    entry
        What is being typed; None when nothing is.
    says
        Cautions, or what happened and what to do.
    refused
        ``says`` is a refusal.
    """

    title: str
    answered: str = ""
    tiles: tuple[Target, ...] = ()
    reading: str = ""
    raw: tuple[str, ...] = ()
    entry: str | None = None
    says: str = ""
    refused: bool = False
    targets: tuple[Target, ...] = ()
