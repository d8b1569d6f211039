"""One port being searched, and the scale found at it, as the page shows them."""

from __future__ import annotations

from mixbench.gui.presenters.finding_pages import found_page, nothing_page, trying_page
from mixbench.gui.presenters.finding_state import FindPageState
from mixbench.gui.presenters.raw_lines import RawLines
from mixbench.scales.events import LineUnmatched, ReadingArrived, ScaleEvent
from mixbench.scales.finding import BytesHeard, SearchEnded, SearchEvent, Step, Trying
from mixbench.scales.fitting import Fit
from mixbench.weighing.reading import Reading


class Hunt:
    """What has come from one port so far, and which of the shapes that fit is looked at.

    Attributes
    ----------
    url
        The port.
    ended
        How the search ended; an empty end until then.
    """

    def __init__(self, url: str) -> None:
        self.url = url
        self.ended = SearchEnded(url, None)
        self._over = False
        self._step: Step | None = None
        self._raw = RawLines()
        self._candidate = 0
        self._newest: Reading | None = None
        self._unmatched = 0

    @property
    def fit(self) -> Fit:
        """The shape looked at; only once a scale is found."""
        return self.ended.fits[self._candidate]

    def follow(self, event: SearchEvent) -> None:
        """Follow the search."""
        match event:
            case Trying(step):
                self._step = step
            case BytesHeard(data):
                self._raw.add(data)
            case SearchEnded():
                self.ended, self._over = event, True

    def hear(self, event: ScaleEvent) -> None:
        """Follow the scale that was found."""
        if isinstance(event, ReadingArrived):
            self._newest = event.reading
            self._raw.add_line(event.reading.text)
        elif isinstance(event, LineUnmatched):
            self._unmatched = event.count
            self._raw.add_line(event.text)

    def another(self) -> None:
        """Look at the next shape that fits."""
        self._candidate = (self._candidate + 1) % len(self.ended.fits)
        self._newest, self._unmatched = None, 0

    def page(self) -> FindPageState:
        """Return what the page shows."""
        if not self._over:
            return trying_page(self.url, self._step, self._raw.shown)
        if not self.ended.fits:
            return nothing_page(self.ended, self._raw.shown)
        newest = self._newest or self.fit.readings[-1]
        return found_page(self.ended, self.fit, newest, self._raw.shown, unmatched=self._unmatched)
