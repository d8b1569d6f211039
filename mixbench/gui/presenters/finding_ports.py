"""The ports to pick from, a few at a time."""

from __future__ import annotations

from mixbench.gui.presenters.finding_pages import ports_page
from mixbench.gui.presenters.finding_state import FindPageState
from mixbench.scales.ports import ListedPort

PORTS_SHOWN = 2


class PortShelf:
    """Ports two at a time, since the page has other targets too."""

    def __init__(self, ports: tuple[ListedPort, ...] = ()) -> None:
        self._ports = ports
        self._from = 0

    def turn(self) -> bool:
        """Go to the next ports; return False at the end of them."""
        self._from += PORTS_SHOWN
        return self._from < len(self._ports)

    def url(self, index: int) -> str | None:
        """Return the address of one that is shown; None when there is none at this place."""
        shown = self._shown()
        return shown[index].url if index < len(shown) else None

    def adapter(self, url: str) -> str:
        """Return the identity of the adapter at an address; empty when it has none."""
        return next((one.adapter for one in self._ports if one.url == url), "")

    def page(self) -> FindPageState:
        """Return what the page shows."""
        return ports_page(self._shown(), more=self._from + PORTS_SHOWN < len(self._ports))

    def _shown(self) -> tuple[ListedPort, ...]:
        return self._ports[self._from : self._from + PORTS_SHOWN]
