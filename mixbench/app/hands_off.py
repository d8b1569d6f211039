"""The demo without hands: the same window, the same scale, and a simulated painter at both.

The painter sees only what the screen shows, presses what can be pressed, and pours with a hand that
slips once. What happens is printed line by line, and pictures are saved on the way.
"""

from __future__ import annotations

import time
from collections.abc import Callable, Iterator
from pathlib import Path

from PySide6.QtCore import QObject, QTimer
from PySide6.QtWidgets import QApplication

from mixbench.app.room import Room
from mixbench.app.window import Opening
from mixbench.commands.output import DONE, REFUSED, say
from mixbench.gui.presenters.figures import figures_for
from mixbench.gui.presenters.seam import seam
from mixbench.gui.views.targets import TargetButton
from mixbench.i18n import _
from mixbench.journal.entry import Entry
from mixbench.journal.verify import verify
from mixbench.ledger.bench import JOURNAL_FILE
from mixbench.pouring.aim import aim_at
from mixbench.pouring.glance import glance
from mixbench.pouring.session import PourSession
from mixbench.pouring.state import Hold, Phase
from mixbench.practice.hand import Hand, OnScreen
from mixbench.practice.scale import PracticeScale

TICK_MS = 20
BETWEEN_PRESSES_S = 0.5
LOOK_S = 0.6
PATIENCE_S = 60.0
CONTENT_SHARE = 0.4  # of the way from the first post to the target: near enough for this painter
HABITS = 82  # seed of a brisk hand
SLIP_OF, SLIP_G = "HARD", 6.0
ANSWERS = ("surfacer", "Surfacer", "bare plastic", "white", "250", "Cup 400")

Wait = Callable[[], bool]


class StuckError(Exception):
    """What the painter waited for did not come."""


class HandsOff(QObject):
    """Plays one pot through a window that is opening, and judges it by its record."""

    def __init__(self, opening: Opening, scale: PracticeScale, pictures: Path) -> None:
        super().__init__(opening)
        self._opening = opening
        self._scale = scale
        self._pictures = pictures
        self._pot = ""
        self._code = REFUSED
        self._entries: list[Entry] = []
        self._story = self._play()
        self._waits: Wait = lambda: True
        self._since_s = time.monotonic()
        self._clock = QTimer(self)
        self._clock.timeout.connect(self._tick)

    def play(self, app: QApplication) -> int:
        """Play the pot; return 0 when it is finished, in its bands and its record unbroken."""
        self._pictures.mkdir(parents=True, exist_ok=True)
        self._clock.start(TICK_MS)
        app.exec()
        return self._code

    def _tick(self) -> None:
        try:
            if self._waits():
                self._waits = next(self._story)
                self._since_s = time.monotonic()
            elif time.monotonic() - self._since_s > PATIENCE_S:
                self._give_up()
        except StopIteration:
            self._end()
        except StuckError:
            self._give_up()

    def _give_up(self) -> None:
        say(_("The demo is stuck; the last picture shows where."))
        self._shoot("99-stuck")
        self._end()

    def _end(self) -> None:
        self._clock.stop()
        self._opening.window.close()

    # The story ---------------------------------------------------------------------------------

    def _play(self) -> Iterator[Wait]:
        yield lambda: self._opening.room is not None and bool(self._buttons())
        yield self._after(LOOK_S)
        self._shoot("01-start")
        yield from self._order()
        yield from self._put_cup()
        while self._session.state.pot.phase not in (Phase.FINISHED, Phase.ABANDONED):
            yield from self._next_step()
        yield self._after(LOOK_S)
        self._shoot("08-finished")
        yield from self._look_at_record()

    def _order(self) -> Iterator[Wait]:
        for answer in ANSWERS:
            if self._find_button(answer) is not None:
                say(_("The painter presses: {label}").format(label=answer))
                yield from self._press(answer)
        self._shoot("02-what-will-be-poured")
        yield from self._press_named("pour")
        yield lambda: self._room.session is not None
        self._pot = self._session.state.pot.control.pot
        self._session.on_entry = self._say_entry

    def _put_cup(self) -> Iterator[Wait]:
        yield self._after(LOOK_S)
        self._shoot("03-cup-wanted")
        self._scale.cup_on(self._session.state.pot.control.cup.empty_g or 0.0)
        yield lambda: self._session.state.pot.cup_g is not None

    def _next_step(self) -> Iterator[Wait]:
        pot = self._session.state.pot
        if pot.phase is Phase.LOCKED:
            yield self._after(LOOK_S)
            self._shoot(f"04-scan-{len(pot.accepted) + 1}")
            self._room.pot.scan_right_tin()
            yield lambda: self._session.state.pot.phase is not Phase.LOCKED
        elif pot.phase is Phase.POURING:
            yield from self._pour()
        elif pot.phase is Phase.OVER:
            yield self._after(LOOK_S)
            self._shoot("06-overpoured")
            yield from self._press_named("go_on")
            yield lambda: self._session.state.pot.phase is not Phase.OVER

    def _pour(self) -> Iterator[Wait]:
        pot = self._session.state.pot
        index = pot.todo[0]
        code, begun = pot.control.mix.codes[index], len(pot.accepted) + pot.overpours
        slip_g = SLIP_G if code == SLIP_OF and pot.overpours == 0 else 0.0
        aim = aim_at(pot, index)
        close_g = CONTENT_SHARE * (aim.target_g - aim.low_g)
        hand = Hand(self._scale, self._screen, seed=HABITS, close_g=close_g)
        hand.begin(slip_g)
        shot = {"done": False}

        def poured() -> bool:
            done = hand.step(time.monotonic())
            seen = self._screen().remaining_g
            if not shot["done"] and seen is not None and 0 < seen < 8:
                shot["done"] = True
                self._shoot(f"05-pouring-{begun + 1}-{code.lower()}")
            return done

        yield poured
        yield lambda: self._session.state.pot.todo[:1] != (index,) or self._is_over()

    def _look_at_record(self) -> Iterator[Wait]:
        yield from self._press_named("see_record")
        yield from self._press_named("check_record")
        yield self._after(LOOK_S)
        self._shoot("09-record")
        window = self._opening.window
        verdict = verify(Path(self._room.folder) / JOURNAL_FILE)
        say(_("The record: {words}").format(words=verdict.words))
        say(_("Pictures in {folder}").format(folder=self._pictures))
        finished = any(entry.kind == "pot-finished" for entry in self._entries)
        self._code = DONE if finished and verdict.intact and window.isVisible() else REFUSED

    # What the painter sees and does --------------------------------------------------------------

    @property
    def _room(self) -> Room:
        if self._opening.room is None:
            raise StuckError
        return self._opening.room

    @property
    def _session(self) -> PourSession:
        if self._room.session is None:
            raise StuckError
        return self._room.session

    def _is_over(self) -> bool:
        return self._session.state.pot.phase is Phase.OVER

    def _screen(self) -> OnScreen:
        session = self._room.session
        if session is None:
            return OnScreen(None)
        now_s = time.monotonic()
        seen = glance(session.state, session.scale_state(now_s), session.motion)
        if seen is None or seen.phase is not Phase.POURING or seen.hold is not Hold.NONE:
            return OnScreen(None)
        code = session.state.pot.control.mix.codes[seen.index]
        return OnScreen(seen.remaining_g, seen.lead_g, code)

    def _buttons(self) -> list[TargetButton]:
        page = self._opening.window.pages.currentWidget()
        found = page.findChildren(TargetButton) if page is not None else []
        return [one for one in found if one.isVisible() and one.isEnabled() and one.text()]

    def _find_button(self, words: str) -> TargetButton | None:
        return next((one for one in self._buttons() if words in one.text()), None)

    def _press(self, words: str) -> Iterator[Wait]:
        button = self._find_button(words)
        if button is None:
            raise StuckError
        button.click()
        yield self._after(BETWEEN_PRESSES_S)

    def _press_named(self, name: str) -> Iterator[Wait]:
        button = next((one for one in self._buttons() if one.objectName() == name), None)
        if button is None:
            raise StuckError
        say(_("The painter presses: {label}").format(label=button.text()))
        button.click()
        yield self._after(BETWEEN_PRESSES_S)

    def _after(self, seconds: float) -> Wait:
        until_s = time.monotonic() + seconds
        return lambda: time.monotonic() >= until_s

    def _shoot(self, name: str) -> None:
        path = self._pictures / f"{name}.png"
        self._opening.window.grab().save(str(path))

    def _say_entry(self, entry: Entry) -> None:
        self._entries.append(entry)
        row = seam(self._room.pot.entries(), figures_for(self._room.language))
        line = row[-1]
        say(f"{line.time}  {line.sentence}  {line.word}".rstrip())
