"""The practice scale at the other end of a real pty and a real TCP port, opened by pyserial."""

import sys
import time
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
import serial

from mixbench.errors import InputError, PortError, ProfileError
from mixbench.practice.endpoint import Endpoint, PtyEndpoint, TcpEndpoint
from mixbench.practice.hand import OnScreen
from mixbench.practice.lines import RENDERERS
from mixbench.practice.scale import PracticeScale
from mixbench.scales.framing import Framer
from mixbench.scales.lines import parse
from mixbench.scales.profiles import profile
from mixbench.weighing.reading import Basis, Load, Reading

PATIENCE_S = 20.0
HURRY = 5.0
ENDPOINTS = ["tcp"] if sys.platform == "win32" else ["pty", "tcp"]

every_endpoint = pytest.mark.parametrize("kind", ENDPOINTS)
posix = pytest.mark.skipif(sys.platform == "win32", reason="Windows has no pseudo-terminals")


class Listener:
    """A program that opens the scale as it would any other, and reads it."""

    def __init__(self, url: str, name: str) -> None:
        self.port = serial.serial_for_url(url, timeout=0.05, exclusive=True)
        self._profile = profile(name)
        self._framer = Framer(self._profile, mid_stream=not self._profile.requests)
        self.readings: list[Reading] = []
        self.refused = 0

    def __enter__(self) -> "Listener":
        return self

    def __exit__(self, *_failure: object) -> None:
        self.port.close()

    def hear(self) -> None:
        for request in self._profile.requests:
            self.port.write(request.send)
        for frame in self._framer.feed(self.port.read(64)):
            found = parse(self._profile, frame, time.monotonic())
            if isinstance(found, Reading):
                self.readings.append(found)
            else:
                self.refused += 1

    def until(self, holds: Callable[[Reading], bool]) -> Reading:
        """Read on until a reading from now on is as wanted."""
        seen = len(self.readings)
        end_s = time.monotonic() + PATIENCE_S
        while time.monotonic() < end_s:
            self.hear()
            for reading in self.readings[seen:]:
                if holds(reading):
                    return reading
        pytest.fail(f"not seen within {PATIENCE_S} s; last {self.readings[-1:]}")


def quick() -> float:
    """Return the time of a scale that lives five times faster than its test."""
    return HURRY * time.monotonic()


def eventually(holds: Callable[[], bool]) -> None:
    end_s = time.monotonic() + PATIENCE_S
    while not holds():
        assert time.monotonic() < end_s, f"not within {PATIENCE_S} s"
        time.sleep(0.01)


def still_near(mass_g: float) -> Callable[[Reading], bool]:
    def holds(reading: Reading) -> bool:
        near = reading.mass_g is not None and abs(reading.mass_g - mass_g) < 0.25
        return near and bool(reading.stable)

    return holds


@pytest.mark.parametrize("name", sorted(RENDERERS))
def test_every_shape_weighs_a_pot_through_a_port(name):
    """In grams of the figure as its profile takes it; shapes without a mark are watched."""
    with (
        PracticeScale(name, ENDPOINTS[0], rate_hz=50.0, clock=quick) as scale,
        Listener(scale.url, name) as listener,
    ):
        scale.cup_on(412.3)
        found = listener.until(
            lambda reading: (
                reading.stable is not False
                and reading.mass_g is not None
                and abs(reading.mass_g - 412.3) < 0.25
            )
        )
        assert found.load is Load.OK
        assert found.step_g == pytest.approx(0.1)


@every_endpoint
@pytest.mark.parametrize("name", ["hdr2", "sma"])
class TestWeighing:
    def test_a_pot_is_weighed_through_the_port(self, kind, name):
        with (
            PracticeScale(name, kind, rate_hz=20.0, clock=quick, seed=1) as scale,
            Listener(scale.url, name) as listener,
        ):
            listener.until(still_near(0.0))
            scale.cup_on(25.0)
            assert listener.until(still_near(25.0)).basis is Basis.GROSS
            scale.pour(40.0, 40.0)
            listener.until(lambda reading: reading.stable is False)
            assert listener.until(still_near(65.0)).unit == "g"
            assert listener.refused == 0

    def test_keys_and_limits_come_through(self, kind, name):
        with (
            PracticeScale(name, kind, rate_hz=20.0, clock=quick, capacity_g=1000.0) as scale,
            Listener(scale.url, name) as listener,
        ):
            scale.cup_on(500.0)
            listener.until(still_near(500.0))
            scale.press("tare")
            assert listener.until(still_near(0.0)).basis is Basis.NET
            scale.show_in("oz")
            listener.until(lambda reading: reading.unit == "oz")
            scale.cup_on(1100.0)
            assert listener.until(lambda reading: reading.load is Load.OVER).mass_g is None


@every_endpoint
class TestTrouble:
    @pytest.fixture
    def scale(self, kind) -> Iterator[PracticeScale]:
        with PracticeScale("hdr2", kind, rate_hz=20.0, clock=quick) as scale:
            yield scale

    def test_a_pulled_cable_loses_the_port_and_a_plugged_one_brings_it_back(self, scale):
        with Listener(scale.url, "hdr2") as listener:
            listener.until(still_near(0.0))
            scale.cable_out()
            with pytest.raises(OSError, match=r"\S"):
                listener.until(lambda _reading: False)
        with pytest.raises(serial.SerialException):
            serial.serial_for_url(scale.url, timeout=0.05)
        scale.cup_on(25.0)
        url = scale.url
        scale.cable_in()
        assert scale.url == url
        with Listener(url, "hdr2") as listener:
            listener.until(still_near(25.0))

    def test_cables_may_be_pulled_twice(self, scale):
        scale.cable_out()
        scale.cable_out()
        scale.cable_in()
        scale.cable_in()
        with Listener(scale.url, "hdr2") as listener:
            listener.until(still_near(0.0))

    def test_a_silent_scale_keeps_its_port_and_speaks_again(self, scale):
        with Listener(scale.url, "hdr2") as listener:
            listener.until(still_near(0.0))
            scale.silence(0.6 * HURRY)
            began_s = time.monotonic()
            listener.port.reset_input_buffer()
            listener.until(lambda reading: reading.at_s > began_s + 0.1)
            assert time.monotonic() - began_s >= 0.5

    def test_garbage_is_refused_and_good_lines_go_on(self, scale):
        with Listener(scale.url, "hdr2") as listener:
            listener.until(still_near(0.0))
            good = len(listener.readings)
            for _burst in range(5):
                scale.garbage(200)
                listener.until(still_near(0.0))
            listener.until(still_near(0.0))
            assert listener.refused > 0
            assert all(
                reading.mass_g is not None and abs(reading.mass_g) < 0.25
                for reading in listener.readings[good:]
            )

    def test_lines_cut_in_half_give_no_weight(self, scale):
        with Listener(scale.url, "hdr2") as listener:
            listener.until(still_near(0.0))
            scale.halve(10)
            refused = listener.refused
            eventually(lambda: listener.hear() or listener.refused > refused)
            listener.until(still_near(0.0))
            assert all(abs(reading.mass_g or 0.0) < 0.25 for reading in listener.readings)

    def test_lines_sent_twice_are_read_twice(self, scale):
        with Listener(scale.url, "hdr2") as listener:
            listener.until(still_near(0.0))
            scale.double(20)
            listener.until(still_near(0.0))
            scale.cup_on(25.0)
            listener.until(still_near(25.0))
            assert listener.refused == 0

    def test_with_the_wrong_parity_nothing_reads_until_it_is_right(self, scale):
        with Listener(scale.url, "hdr2") as listener:
            listener.until(still_near(0.0))
            scale.wrong_parity(on=True)
            refused = listener.refused
            eventually(lambda: listener.hear() or listener.refused > refused + 3)
            good = len(listener.readings)
            eventually(lambda: listener.hear() or listener.refused > refused + 8)
            assert len(listener.readings) == good
            scale.wrong_parity(on=False)
            listener.until(still_near(0.0))

    def test_a_power_cut_is_silent_and_takes_the_pot_as_zero(self, scale):
        with Listener(scale.url, "hdr2") as listener:
            scale.cup_on(25.0)
            listener.until(still_near(25.0))
            scale.power_off()
            scale.power_on()
            listener.until(still_near(0.0))
            scale.cup_off()
            assert listener.until(lambda reading: reading.load is Load.UNDER).mass_g is None

    def test_a_leaning_elbow_is_overload_until_let_go(self, scale):
        with Listener(scale.url, "hdr2") as listener:
            scale.overload()
            listener.until(lambda reading: reading.load is Load.OVER)
            scale.underload()
            listener.until(lambda reading: reading.load is Load.UNDER)
            scale.let_go()
            listener.until(still_near(0.0))

    def test_surroundings_are_felt(self, scale):
        with Listener(scale.url, "hdr2") as listener:
            listener.until(still_near(0.0))
            scale.vibrate(50.0)
            listener.until(lambda reading: abs(reading.mass_g or 0.0) > 1.0)
            scale.vibrate(0.0)
            scale.settle_in(0.1)
            scale.drift(2.0)
            listener.until(lambda reading: (reading.mass_g or 0.0) > 3.0)

    def test_the_rate_can_change_while_it_speaks(self, scale):
        with Listener(scale.url, "hdr2") as listener:
            listener.until(still_near(0.0))
            scale.set_rate(50.0)
            listener.until(still_near(0.0))
            with pytest.raises(InputError, match="Choose a rate"):
                scale.set_rate(0.0)

    def test_the_unit_key_goes_round(self, scale):
        with Listener(scale.url, "hdr2") as listener:
            for unit in ("kg", "lb", "oz", "g"):
                scale.next_unit()
                listener.until(lambda reading, unit=unit: reading.unit == unit)

    def test_the_next_host_may_come_when_the_first_has_gone(self, scale):
        for _visit in range(3):
            with Listener(scale.url, "hdr2") as listener:
                listener.until(still_near(0.0))

    def test_a_host_that_never_reads_does_not_hold_the_scale_up(self, scale):
        with Listener(scale.url, "hdr2"):
            scale.garbage(10_000_000)
            began_s = time.monotonic()
            eventually(lambda: not scale._line.has_garbage)
            scale.cup_on(25.0)
            eventually(lambda: scale.indication().stable and scale.load_g == 25.0)
            assert time.monotonic() - began_s < PATIENCE_S


class TestPty:
    pytestmark = posix

    def test_the_name_chosen_is_the_name_to_open_and_is_gone_afterwards(self, tmp_path):
        link = tmp_path / "scale"
        with PracticeScale("hdr2", PtyEndpoint(link), clock=quick) as scale:
            assert scale.url == str(link)
            with Listener(scale.url, "hdr2") as listener:
                listener.until(still_near(0.0))
        assert list(tmp_path.iterdir()) == []

    def test_a_name_left_by_a_killed_scale_is_taken_over(self, tmp_path):
        link = tmp_path / "scale"
        link.symlink_to(tmp_path / "gone")
        with (
            PracticeScale("hdr2", PtyEndpoint(link), clock=quick) as scale,
            Listener(scale.url, "hdr2") as listener,
        ):
            listener.until(still_near(0.0))

    def test_a_file_of_that_name_is_not_touched(self, tmp_path):
        file = tmp_path / "scale"
        file.write_text("mine")
        with pytest.raises(PortError, match="cannot be made"):
            PtyEndpoint(file)
        assert file.read_text() == "mine"

    def test_its_private_folder_is_removed(self):
        endpoint = PtyEndpoint()
        folder = Path(endpoint.url).parent
        assert folder.is_dir()
        endpoint.close()
        assert not folder.exists()


class TestTcp:
    def test_a_second_host_is_turned_away_while_the_first_is_served(self):
        with (
            PracticeScale("hdr2", "tcp", rate_hz=20.0, clock=quick) as scale,
            Listener(scale.url, "hdr2") as first,
        ):
            first.until(still_near(0.0))
            with (
                Listener(scale.url, "hdr2") as second,
                pytest.raises(serial.SerialException, match="socket disconnected"),
            ):
                second.until(lambda _reading: False)
            assert second.readings == []
            first.until(still_near(0.0))

    def test_a_port_in_use_is_refused_with_a_remedy(self):
        first = TcpEndpoint()
        try:
            with pytest.raises(PortError, match="0 lets the system choose"):
                TcpEndpoint(port=int(first.url.rpartition(":")[2]))
        finally:
            first.close()


class TestRefused:
    def test_a_profile_it_does_not_speak(self):
        with pytest.raises(ProfileError, match="It speaks bare, cmdresp,"):
            PracticeScale("hdr9", "tcp")

    @pytest.mark.parametrize(
        "options",
        [{"rate_hz": 0.0}, {"rate_hz": 1000.0}, {"resolution_g": 0.0}, {"capacity_g": 0.01}],
    )
    def test_a_scale_that_cannot_be(self, options):
        with pytest.raises(InputError, match=r"Choose a"):
            PracticeScale("hdr2", "tcp", **options)

    def test_an_endpoint_that_does_not_exist(self):
        with pytest.raises(InputError, match="Choose pty or tcp"):
            PracticeScale("hdr2", "usb")


def test_a_hand_pours_by_what_comes_down_the_line():
    """In real time: a hand is only as good as the readings it gets while it moves."""
    with (
        PracticeScale("hdr2", ENDPOINTS[0], rate_hz=20.0, seed=3) as scale,
        Listener(scale.url, "hdr2") as listener,
    ):
        scale.cup_on(25.0)
        listener.until(still_near(25.0))

        def screen() -> OnScreen:
            mass_g = listener.readings[-1].mass_g
            return OnScreen(None if mass_g is None else 25.0 + 3.0 - mass_g)

        hand = scale.hand(screen, seed=3)
        hand.begin()
        assert hand.finish(time.monotonic, lambda _seconds: listener.hear(), timeout_s=60.0)
        listener.until(still_near(28.0))


def test_every_endpoint_keeps_the_contract():
    endpoint: Endpoint = TcpEndpoint()
    assert endpoint.wait(0.0) == b""
    endpoint.write(b"nobody is there")
    endpoint.unplug()
    assert endpoint.wait(0.01) == b""
    endpoint.write(b"nobody can be there")
    endpoint.replug()
    endpoint.close()
