"""A whole mixing room for tests: the real window, a data folder, and what a person sees of them."""

from __future__ import annotations

import json
import math
from collections.abc import Callable
from pathlib import Path

from PySide6.QtWidgets import QLabel, QWidget
from pytestqt import exceptions

from mixbench.app.window import Opening
from mixbench.gui.views.targets import TargetButton
from mixbench.pouring.events import PotIsOn
from mixbench.pouring.state import Hold, Phase
from mixbench.practice.scale import PracticeScale
from tests.helpers.bench_process import CUP_G, QUICK, RECIPE

SHOP = f"""\
format = "mixbench shop 1"
name = "Corner"

[[cup]]
name = "Cup 400"
capacity = "400 ml"
empty = "{CUP_G} g"
"""
PATIENCE_MS = 20_000
FLOW_G_S = 40.0


def make_shop(folder: Path, **settings: object) -> Path:
    """Put a small shop with one recipe into a data folder."""
    (folder / "recipes").mkdir(parents=True)
    (folder / "recipes" / "surfacer.toml").write_text(RECIPE)
    (folder / "shop.toml").write_text(SHOP)
    (folder / "settings.json").write_text(json.dumps({**QUICK, "language": "en", **settings}))
    return folder


class RoomInUse:
    """A window on a data folder, opened as ``mixbench`` opens it."""

    def __init__(self, qtbot: object, folder: Path, scale: PracticeScale | None = None) -> None:
        self._bot = qtbot
        self.scale = scale
        self.opening = Opening(folder, "en", dark=False)
        self.window = self.opening.window
        self.until(lambda: self.opening.room is not None)

    @property
    def room(self):
        return self.opening.room

    @property
    def phase(self) -> Phase | None:
        return None if self.room.session is None else self.room.session.state.pot.phase

    @property
    def page(self) -> QWidget:
        return self.window.pages.currentWidget()

    @property
    def words(self) -> str:
        """Everything that can be read on the page, and in the strip below it."""
        seen = [label for label in self.page.findChildren(QLabel) if label.isVisible()]
        buttons = [one for one in self.page.findChildren(TargetButton) if one.isVisible()]
        texts = [one.text() for one in (*seen, *buttons)]
        texts += [one.accessibleDescription() for one in buttons]
        texts.append(self.window.strip.words.accessibleName())
        return "\n".join(text for text in texts if text)

    def until(self, true: Callable[[], bool]) -> None:
        """Work until something is so; fail after twenty seconds."""
        self._bot.waitUntil(true, timeout=PATIENCE_MS)

    def until_said(self, *parts: str) -> str:
        """Work until all of it can be read; return all words then."""
        try:
            self.until(lambda: all(part in self.words for part in parts))
        except exceptions.TimeoutError as error:
            raise AssertionError(f"{parts} not said, but: {self.words}") from error
        return self.words

    def press(self, words: str) -> None:
        """Press what says so."""
        try:
            self.until(lambda: self._button(words) is not None)
        except exceptions.TimeoutError as error:
            raise AssertionError(f"{words} cannot be pressed, only: {self.words}") from error
        guard = getattr(self.page, "_guard", None)
        if guard is not None:
            guard._last_s = -math.inf  # a painter's presses are not a bounce apart
        self._button(words).click()

    def start_pot(self) -> None:
        """Order 250 ml of the recipe and put the cup on."""
        for answer in ("Test surfacer", "250", "Cup 400", "Pour"):
            self.press(answer)
        self.until(lambda: self.phase is Phase.CUP)
        self.scale.cup_on(CUP_G)
        self.until(lambda: self.phase is Phase.POURING)

    def pour(self) -> int:
        """Pour the component that is asked for, without waiting for the verdict; return it."""
        pot = self.room.session.state.pot
        self.scale.pour(pot.plan.mass_g[pot.active] - pot.poured_g[pot.active], FLOW_G_S)
        return pot.active

    def pour_and_wait(self) -> None:
        """Pour the component that is asked for until it is accepted."""
        index = self.pour()
        self.until(lambda: self._is_in(index))

    def pour_until_refused(self) -> None:
        """Pour one component after the other until the journal refuses one."""
        session = self.room.session
        while session.trouble is None:
            index = self.pour()
            self.until(lambda at=index: bool(session.trouble) or self._is_in(at))

    def pour_to_the_end(self) -> None:
        """Pour what is missing until the pot is finished."""
        while self.phase is Phase.POURING:
            self.pour_and_wait()
        self.until(lambda: self.phase is Phase.FINISHED)

    def _is_in(self, index: int) -> bool:
        """Return whether a component was accepted; a hand read too late answers for its pot."""
        state = self.room.session.state
        if state.hold is Hold.HEAVIER:  # readings came late, and the pour looks like a thing put on
            self.room.session.handle(PotIsOn())
        return index not in state.pot.todo

    def _button(self, words: str) -> TargetButton | None:
        found = self.page.findChildren(TargetButton)
        usable = (one for one in found if one.isVisible() and one.isEnabled())
        return next((one for one in usable if words in one.text()), None)
