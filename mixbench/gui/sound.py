"""Plays the sounds of the bench where the machine can; where it cannot, stays silent.

QtMultimedia is optional and may fail to load for want of a system library, so it is imported on
first need, well after the first frame. Sound is never the only cue.
"""

from __future__ import annotations

import logging
from collections.abc import Callable
from typing import TYPE_CHECKING

from PySide6.QtCore import QObject, QUrl

from mixbench.gui.presenters.cues import Sound
from mixbench.resource import resource_path

if TYPE_CHECKING:
    from PySide6.QtMultimedia import QSoundEffect

log = logging.getLogger(__name__)


def new_effect(parent: QObject) -> QSoundEffect | None:
    """Return an effect without a source, or None where there is no sound."""
    try:
        from PySide6.QtMultimedia import QSoundEffect
    except ImportError as error:
        log.info("no sound: %s", error)
        return None
    return QSoundEffect(parent)


class SoundPlayer(QObject):
    """Plays each `Sound` from its file, loaded once."""

    def __init__(
        self,
        *,
        enabled: bool = True,
        make: Callable[[QObject], QSoundEffect | None] = new_effect,
        parent: QObject | None = None,
    ) -> None:
        super().__init__(parent)
        self.enabled = enabled
        self._make = make
        self._effects: dict[Sound, QSoundEffect | None] = {}
        self._absent = False

    def load(self) -> None:
        """Load every sound, so that the first pulse is not late."""
        for sound in Sound:
            self._effect(sound)

    def play(self, sound: Sound) -> None:
        """Play a sound from its beginning; nothing happens where there is no sound."""
        if not self.enabled:
            return
        effect = self._effect(sound)
        if effect is not None:
            effect.play()

    def _effect(self, sound: Sound) -> QSoundEffect | None:
        if self._absent:
            return None
        if sound not in self._effects:
            effect = self._make(self)
            if effect is None:
                self._absent = True
                return None
            path = resource_path("sounds") / f"{sound.value}.wav"
            effect.setSource(QUrl.fromLocalFile(str(path)))
            self._effects[sound] = effect
        return self._effects[sound]
