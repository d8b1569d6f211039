"""The ports of this computer, and an adapter found again by its identity.

The number in ``/dev/ttyUSB0`` or ``COM3`` may change when an adapter is plugged in again; vendor,
product and serial number of the adapter do not.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from serial.tools import list_ports
from serial.tools.list_ports_common import ListPortInfo

from mixbench.errors import PortError
from mixbench.i18n import _
from mixbench.scales.port import ScalePort, open_port
from mixbench.scales.shape import Profile


@dataclass(frozen=True, slots=True)
class ListedPort:
    """A port the computer names.

    Attributes
    ----------
    url
        What to open.
    title
        What the adapter calls itself; empty for a port that is not on USB.
    adapter
        Vendor, product and serial number, ``1234:ABCD:0007``; empty for a port not on USB.
    """

    url: str
    title: str
    adapter: str


def listed_ports() -> tuple[ListedPort, ...]:
    """Return the ports of this computer, those on USB first.

    A port may be listed with nothing behind it, and pseudo-terminals and network addresses are
    never listed.
    """
    found = [_listed(one) for one in list_ports.comports()]
    return tuple(sorted(found, key=lambda one: (not one.adapter, one.url)))


def port_now(url: str, adapter: str, listed: Sequence[ListedPort]) -> str:
    """Return where an adapter is now.

    Parameters
    ----------
    url
        Where it was when the scale was saved.
    adapter
        Its identity; empty for a scale that is on no USB adapter.
    listed
        The ports there are.

    Raises
    ------
    PortError
        Another adapter has taken the place, and the right one is not plugged in: what is on it
        may be another scale.

    Examples
    --------
    >>> port_now("COM3", "1A2B:0001:77", [ListedPort("COM5", "Adapter", "1A2B:0001:77")])
    'COM5'
    """
    here = next((one for one in listed if one.url == url), None)
    if not adapter or (here is not None and here.adapter == adapter):
        return url
    elsewhere = [one.url for one in listed if one.adapter == adapter]
    if len(elsewhere) == 1:
        return elsewhere[0]
    if here is not None and here.adapter:
        raise PortError(
            _("At {url} is another adapter ({title}) than the scale's.").format(
                url=url, title=here.title or here.adapter
            ),
            kept=_("Nothing is read from it."),
            remedy=_("Plug the scale's own adapter in, or find the scale again."),
        )
    return url


def opener(adapter: str) -> Callable[[str, Profile], ScalePort]:
    """Return what opens a scale's port wherever its adapter is now."""

    def open_again(url: str, shape: Profile) -> ScalePort:
        return open_port(port_now(url, adapter, listed_ports()) if adapter else url, shape)

    return open_again


def _listed(one: ListPortInfo) -> ListedPort:
    if one.vid is None or one.pid is None:
        return ListedPort(one.device, "", "")
    title = " ".join(dict.fromkeys(text for text in (one.manufacturer, one.product) if text))
    adapter = f"{one.vid:04X}:{one.pid:04X}:{one.serial_number or ''}"
    return ListedPort(one.device, title or _("USB adapter"), adapter)
