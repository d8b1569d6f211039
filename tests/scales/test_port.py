"""Whatever pyserial lets out comes out as one PortError with a remedy that fits.

The errors are those seen on real devices and listed in pyserial's source and issues (open
elsewhere on Windows: issues 446, 458, 684, READ); here they are raised in its place, because no
test machine can show them all.
"""

from __future__ import annotations

from collections.abc import Callable

import pytest
import serial

from mixbench.errors import PortError
from mixbench.scales.port import ScalePort, open_port
from mixbench.scales.profiles import profile

termios = pytest.importorskip("termios", reason="POSIX only")
HDR2 = profile("hdr2")


def failing(error: Exception) -> Callable[..., object]:
    """Return a function that raises this error whatever it is given."""

    def fail(*_given: object, **_named: object) -> object:
        raise error

    return fail


@pytest.mark.parametrize(
    ("error", "remedy"),
    [
        (serial.SerialException(13, "could not open port: Permission denied"), "dialout"),
        (
            serial.SerialException("could not open port 'COM3': PermissionError(13, 'Access')"),
            "Close other programs",
        ),
        (serial.SerialException(11, "Could not exclusively lock port"), "Another program"),
        (serial.SerialException(16, "Device or resource busy"), "Another program"),
        (
            serial.SerialException("could not open port 'COM9': FileNotFoundError(2, 'none')"),
            "plugged in",
        ),
        (termios.error(22, "Invalid argument"), "speed and parity"),
        (ConnectionResetError(104, "Connection reset by peer"), "cable and power"),
        (ValueError("Not a valid baudrate: 9601"), "Write a device"),
    ],
)
def test_a_port_that_does_not_open_says_what_to_do(
    error: Exception, remedy: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(serial, "serial_for_url", failing(error))
    with pytest.raises(PortError) as caught:
        open_port("/dev/ttyUSB0", HDR2)
    assert caught.value.what.startswith("The port /dev/ttyUSB0 cannot be opened (")
    assert remedy in caught.value.remedy
    assert caught.value.__cause__ is error


class GoneDevice:
    """Behaves as a device does once its adapter is pulled out (RUN, Linux; source, Windows)."""

    def __init__(self, error: Exception) -> None:
        self._error = error

    @property
    def in_waiting(self) -> int:
        raise self._error

    def read(self, _size: int) -> bytes:
        raise self._error

    def write(self, _data: bytes) -> None:
        raise self._error

    def close(self) -> None:
        raise self._error


@pytest.mark.parametrize(
    "error",
    [
        OSError(5, "Input/output error"),
        serial.SerialException("ClearCommError failed (OSError(22, 'no such device'))"),
        serial.SerialTimeoutException("Write timeout"),
        termios.error(5, "Input/output error"),
        TypeError("'NoneType' object cannot be interpreted as an integer"),
    ],
    ids=lambda error: type(error).__name__,
)
def test_a_port_that_goes_says_so_in_one_way(error: Exception) -> None:
    port = ScalePort("/dev/ttyUSB0", GoneDevice(error))  # type: ignore[arg-type]
    for use in (lambda: port.read(0.0), lambda: port.write(b"\nW\r")):
        with pytest.raises(PortError, match=r"The line to the scale at /dev/ttyUSB0 is gone \("):
            use()
    port.close()


def test_the_settings_of_the_profile_reach_the_device(monkeypatch: pytest.MonkeyPatch) -> None:
    asked: dict[str, object] = {}
    monkeypatch.setattr(serial, "serial_for_url", lambda url, **given: asked.update(given, url=url))
    open_port("/dev/ttyUSB0", profile("signnum16"))
    assert asked == {
        "url": "/dev/ttyUSB0",
        "baudrate": 1200,
        "bytesize": 7,
        "parity": "O",
        "stopbits": 1,
        "rtscts": True,
        "xonxoff": False,
        "timeout": 0.02,
        "write_timeout": 1.0,
        "exclusive": True,
    }
