"""The one line to the scale: read, searched or left alone, and never two of these at once."""

from __future__ import annotations

from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass
from pathlib import Path

from mixbench.scales.finding import SearchEnded, as_found
from mixbench.scales.fitting import Fit
from mixbench.scales.ports import opener
from mixbench.scales.profiles import load_profiles, shipped_profiles
from mixbench.scales.reader import ScaleReader
from mixbench.scales.saved import saved_shape
from mixbench.scales.search import ScaleSearch
from mixbench.settings import Settings


@dataclass(frozen=True, slots=True)
class FromLine:
    """An event of the line, and which use of it the event belongs to."""

    use: int
    event: object


@dataclass(frozen=True, slots=True)
class NoScale:
    """The bench has no scale, and the line is left alone."""


class ScaleLine:
    """Switches the line between its uses without holding up the window.

    A port can be slow to let go (an address that does not answer takes seconds), so the old use
    is ended and the new one begun on a thread of its own, in the order asked for.

    Parameters
    ----------
    user_profiles
        Folder of the shop's own profiles.
    post
        Takes `FromLine` events; may be called from any thread.
    """

    def __init__(self, user_profiles: Path, post: Callable[[object], None]) -> None:
        self._user_profiles = user_profiles
        self._post = post
        self._use = 0
        self._now: ScaleReader | ScaleSearch | None = None
        self._switch: ThreadPoolExecutor | None = None

    def is_now(self, one: FromLine) -> bool:
        """Whether an event belongs to what the line is used for now."""
        return one.use == self._use

    def read_saved(self, settings: Settings) -> None:
        """Read the scale of the settings; none when they name none.

        Raises
        ------
        ProfileError
            There is no such profile, or its file cannot be used.
        SettingsError
            The line settings cannot be read.
        """
        if not settings.scale_url:
            self._begin(None)
            self._post(FromLine(self._use, NoScale()))
            return
        shape = saved_shape(settings, self._user_profiles)
        open_ = opener(settings.scale_adapter)
        self._begin(ScaleReader(settings.scale_url, shape, self._next_post(), open_=open_))

    def read_found(self, ended: SearchEnded, fit: Fit) -> None:
        """Look at a scale that was found, with the settings it was found at."""
        self._begin(ScaleReader(ended.url, as_found(ended, fit.profile), self._next_post()))

    def search(self, url: str) -> None:
        """Find out how the scale at a port talks."""
        shelf = load_profiles(shipped_profiles(), self._user_profiles)
        self._begin(ScaleSearch(url, shelf.values(), self._next_post()))

    def close(self) -> None:
        """Let go of the port; returns when it is closed. The line can be used again."""
        self._begin(None)
        if self._switch is not None:
            self._switch.shutdown(wait=True)
            self._switch = None

    def _next_post(self) -> Callable[[object], None]:
        use = self._use + 1
        return lambda event: self._post(FromLine(use, event))

    def _begin(self, fresh: ScaleReader | ScaleSearch | None) -> None:
        old, self._now = self._now, fresh
        self._use += 1

        def switch() -> None:
            if old is not None:
                old.stop()
            if fresh is not None:
                fresh.start()

        if self._switch is None:
            self._switch = ThreadPoolExecutor(1, thread_name_prefix="scale line")
        self._switch.submit(switch)
