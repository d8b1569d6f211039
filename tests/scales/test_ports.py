"""Ports by name, and an adapter found again wherever it was plugged in."""

from __future__ import annotations

from types import SimpleNamespace

import pytest

from mixbench.errors import PortError, ProfileError, SettingsError
from mixbench.scales import ports
from mixbench.scales.ports import ListedPort, listed_ports, opener, port_now
from mixbench.scales.profiles import profile
from mixbench.scales.saved import saved_shape
from mixbench.scales.shape import SerialSettings
from mixbench.settings import Settings

OURS = "1A2B:0001:77"
HERE = ListedPort("/dev/ttyUSB0", "Serial adapter", OURS)
MOVED = ListedPort("/dev/ttyUSB3", "Serial adapter", OURS)
OTHER = ListedPort("/dev/ttyUSB0", "Label printer", "9999:0001:1")
BUILT_IN = ListedPort("/dev/ttyS0", "", "")


def comport(device: str, **more: object) -> SimpleNamespace:
    """Return a port as pyserial lists one."""
    parts = {"vid": None, "pid": None, "serial_number": None, "manufacturer": None}
    return SimpleNamespace(device=device, **{**parts, "product": None, **more})


def test_ports_come_with_their_usb_names_those_on_usb_first(monkeypatch) -> None:
    listing = [
        comport("/dev/ttyS0"),
        comport("/dev/ttyUSB1", vid=0x1A2B, pid=1, product="Cable"),
        comport("/dev/ttyUSB0", vid=0x1A2B, pid=1, serial_number="77", manufacturer="M",
                product="C"),
        comport("/dev/ttyUSB2", vid=0x1A2B, pid=2),
    ]  # fmt: skip
    monkeypatch.setattr(ports.list_ports, "comports", lambda: listing)
    assert listed_ports() == (
        ListedPort("/dev/ttyUSB0", "M C", "1A2B:0001:77"),
        ListedPort("/dev/ttyUSB1", "Cable", "1A2B:0001:"),
        ListedPort("/dev/ttyUSB2", "USB adapter", "1A2B:0002:"),
        BUILT_IN,
    )


@pytest.mark.parametrize(
    ("listed", "found"),
    [
        ([HERE, BUILT_IN], "/dev/ttyUSB0"),
        ([MOVED, BUILT_IN], "/dev/ttyUSB3"),
        ([OTHER, MOVED], "/dev/ttyUSB3"),
        ([], "/dev/ttyUSB0"),  # gone: opening it will say so
        ([BUILT_IN], "/dev/ttyUSB0"),
    ],
)
def test_the_adapter_is_opened_where_it_is_now(listed, found) -> None:
    assert port_now("/dev/ttyUSB0", OURS, listed) == found


def test_a_port_without_identity_is_taken_at_its_word() -> None:
    assert port_now("socket://10.0.0.7:4001", "", [HERE]) == "socket://10.0.0.7:4001"
    assert port_now("/dev/ttyUSB0", "", [OTHER]) == "/dev/ttyUSB0"


def test_another_adapter_in_its_place_is_not_read() -> None:
    with pytest.raises(PortError, match="Label printer") as caught:
        port_now("/dev/ttyUSB0", OURS, [OTHER])
    assert caught.value.kept
    assert caught.value.remedy


def test_two_adapters_that_cannot_be_told_apart_are_not_chosen_between() -> None:
    twins = [ListedPort(f"/dev/ttyUSB{n}", "Cable", "1A2B:0001:") for n in (2, 3)]
    assert port_now("/dev/ttyUSB0", "1A2B:0001:", twins) == "/dev/ttyUSB0"
    assert port_now("/dev/ttyUSB2", "1A2B:0001:", twins) == "/dev/ttyUSB2"


def test_the_opener_opens_the_port_of_the_moment(monkeypatch) -> None:
    opened = []
    monkeypatch.setattr(ports, "open_port", lambda url, shape: opened.append(url))
    plugged = [HERE]
    monkeypatch.setattr(ports, "listed_ports", lambda: plugged)
    open_again = opener(OURS)
    open_again("/dev/ttyUSB0", profile("hdr2"))
    plugged[:] = [MOVED]
    open_again("/dev/ttyUSB0", profile("hdr2"))
    opener("")("/dev/ttyUSB0", profile("hdr2"))
    assert opened == ["/dev/ttyUSB0", "/dev/ttyUSB3", "/dev/ttyUSB0"]


def test_the_saved_scale_is_read_at_the_settings_it_was_found_at(tmp_path) -> None:
    assert saved_shape(Settings(), tmp_path) == profile("hdr2")
    found = saved_shape(Settings(scale_wire="2400 7E1"), tmp_path)
    assert (found.name, found.serial) == ("hdr2", SerialSettings(2400, 7, "even"))
    with pytest.raises(SettingsError):
        saved_shape(Settings(scale_wire="fast"), tmp_path)
    with pytest.raises(ProfileError):
        saved_shape(Settings(scale_profile="none"), tmp_path)
