"""An open port to a scale: a serial device, a pseudo-terminal or a TCP address.

Every failure comes out as one PortError. pyserial has no single base for them: a dead device
raises plain OSError from ``in_waiting`` and SerialException from ``read``, a setting the device
refuses raises termios.error (neither), an unknown scheme ValueError, an address without a port
TypeError, a wrong option KeyError, a time-out that a handler lacks NotImplementedError.
"""

from __future__ import annotations

import errno
import os
import re
import select
from collections.abc import Callable
from typing import TypeVar
from urllib.parse import urlsplit

import serial
from serial.urlhandler.protocol_socket import Serial as SocketSerial

from mixbench.errors import PortError
from mixbench.i18n import _
from mixbench.scales.shape import Profile, SerialSettings

try:
    from termios import error as _TermiosError  # noqa: N812  the standard library's name is lower case
except ImportError:  # Windows has no termios
    _TermiosError = OSError  # type: ignore[misc, assignment]

FAILURES = (OSError, ValueError, TypeError, LookupError, NotImplementedError, _TermiosError)
"""All that pyserial lets out when opening or using a port; SerialException is an OSError."""

WRITE_TIMEOUT_S = 1.0
_PARITY = {"none": "N", "even": "E", "odd": "O"}
_PSEUDO_TERMINAL = re.compile(r"/dev/(pts/[0-9]+|ttys[0-9]+)")
_MOST_BYTES = 4096
_Result = TypeVar("_Result")


class ScalePort:
    """A port that reads what is there, and says in a PortError when it has gone.

    Attributes
    ----------
    url
        The address it was opened with.
    """

    def __init__(self, url: str, device: serial.Serial) -> None:
        self.url = url
        self._device = device
        self._is_socket = isinstance(device, SocketSerial)

    def read(self, wait_s: float) -> bytes:
        """Return the bytes that came, at once when there are some; b"" after ``wait_s`` without.

        Raises
        ------
        PortError
            The port has gone.
        """
        if self._is_socket:
            return self._used(lambda: self._read_socket(wait_s))
        return self._used(lambda: self._device.read(self._device.in_waiting or 1))

    def write(self, data: bytes) -> None:
        """Send all bytes.

        Raises
        ------
        PortError
            The port has gone, or takes no bytes for a second.
        """
        self._used(lambda: self._device.write(data))

    def close(self) -> None:
        """Close the port; a port that has gone is closed as well."""
        try:
            self._device.close()
        except FAILURES:
            return

    def _read_socket(self, wait_s: float) -> bytes:
        """Read a TCP port whole: its ``in_waiting`` says 1 however much is there."""
        ready, _writable, _failed = select.select([self._device.fileno()], [], [], wait_s)
        return self._device.read(_MOST_BYTES) if ready else b""

    def _used(self, action: Callable[[], _Result]) -> _Result:
        try:
            return action()
        except FAILURES as error:
            raise lost_error(self.url, error) from error


def open_port(url: str, profile: Profile, read_timeout_s: float = 0.02) -> ScalePort:
    """Open the port of a scale with the settings of its profile; see `open_line`."""
    return open_line(url, profile.serial, read_timeout_s)


def open_line(url: str, settings: SerialSettings, read_timeout_s: float = 0.02) -> ScalePort:
    """Open a port with any settings.

    Parameters
    ----------
    url
        A device (``/dev/ttyUSB0``, ``COM3``), a pseudo-terminal, or a URL that pyserial knows
        (``socket://192.168.1.20:4001``, ``rfc2217://...``).
    settings
        Speed, data bits, parity, stop bits and handshake. A pseudo-terminal is opened with 8 bits
        and no parity whatever they say: it carries bytes, and refuses anything else.
    read_timeout_s
        Longest wait of a read on a device [s].

    Raises
    ------
    PortError
        With the remedy that fits: no such port, no permission, in use, refused, unknown address.
    """
    _check_address(url)
    if _is_pseudo_terminal(url):
        settings = SerialSettings(baud=settings.baud)
    timeout_s = 0.0 if _is_plain_socket(url) else read_timeout_s
    try:
        device = serial.serial_for_url(
            url,
            baudrate=settings.baud,
            bytesize=settings.bits,
            parity=_PARITY[settings.parity],
            stopbits=settings.stop,
            rtscts=settings.handshake == "rts/cts",
            xonxoff=settings.handshake == "xon/xoff",
            timeout=timeout_s,
            write_timeout=None if _is_rfc2217(url) else WRITE_TIMEOUT_S,  # it has none
            exclusive=True,
        )
    except FAILURES as error:
        what = _("The port {url} cannot be opened ({error}).").format(url=url, error=error)
        raise PortError(what, remedy=_remedy(url, error)) from error
    return ScalePort(url, device)


def heeds_settings(url: str) -> bool:
    """Say whether speed and parity reach the scale's line through this port.

    Examples
    --------
    >>> heeds_settings("/dev/ttyUSB0"), heeds_settings("socket://192.168.1.20:4001")
    (True, False)
    """
    return not (_is_plain_socket(url) or _is_pseudo_terminal(url))


def _is_plain_socket(url: str) -> bool:
    return url.lower().startswith("socket://")


def _is_rfc2217(url: str) -> bool:
    return url.lower().startswith("rfc2217://")


def _is_pseudo_terminal(url: str) -> bool:
    return _PSEUDO_TERMINAL.fullmatch(os.path.realpath(url)) is not None


def lost_error(url: str, error: BaseException) -> PortError:
    """Return the error for a port that was open and has gone."""
    return PortError(
        _("The line to the scale at {url} is gone ({error}).").format(url=url, error=error),
        kept=_("Everything accepted so far is kept."),
        remedy=_("Check cable and power. mixbench opens the port again by itself."),
    )


def _check_address(url: str) -> None:
    """Refuse what pyserial would refuse with a message about its own insides."""
    if url.lower().startswith(("socket://", "rfc2217://")):
        try:
            parts = urlsplit(url)
            whole = bool(parts.hostname and parts.port)
        except ValueError:
            whole = False
    else:
        whole = bool(url.strip())
    if not whole:
        what = _("{url} is no port and no address.").format(url=repr(url))
        raise PortError(what, remedy=_(_WRITE_AN_ADDRESS))


def _remedy(url: str, error: BaseException) -> str:
    said = str(error).lower()
    number = error.errno if isinstance(error, OSError) else None
    for numbers, words, remedy in _REMEDIES:
        if number in numbers or words in said:
            return _(remedy)
    if "://" in url or not isinstance(error, OSError | _TermiosError):
        return _(_WRITE_AN_ADDRESS)
    return _("Check cable and power, and that the port can do the speed and parity of the profile.")


def _marked(text: str) -> str:
    """Mark a text for translation where it is written, to be translated where it is shown."""
    return text


_WRITE_AN_ADDRESS = _marked(
    "Write a device such as /dev/ttyUSB0 or COM3, or an address socket://HOST:PORT."
)

_REMEDIES = (
    (
        {errno.EACCES},
        "permissionerror",
        _marked(
            "Close other programs that use the port. On Linux, add the user to the group "
            "dialout (uucp on some systems) and log in again."
        ),
    ),
    (
        {errno.EAGAIN, errno.EBUSY},
        "exclusively lock",
        _marked("Another program has the port open: close it."),
    ),
    (
        {errno.ENOENT},
        "filenotfounderror",
        _marked("Check that the scale or its adapter is plugged in, and the name of the port."),
    ),
    (
        {errno.ECONNREFUSED},
        "refused",
        _marked("Nothing answers there: check the address, and that the device is switched on."),
    ),
)
"""What to do, by the error's number or, where pyserial drops it, by its words; first that fits."""
