"""The practice scale in real time: one thread that lets paint fall and talks down the line.

Whoever holds it may use it from any thread: each hand movement first lets the physics come up to
now. The endpoint belongs to the serving thread; pulling the cable is asked of it and waited for.
"""

from __future__ import annotations

import queue
import threading
import time
from collections.abc import Callable, Iterator
from concurrent.futures import Future
from contextlib import contextmanager
from random import Random
from types import TracebackType

from mixbench.errors import InputError, ProfileError
from mixbench.i18n import _
from mixbench.practice.conversation import conversation
from mixbench.practice.endpoint import Endpoint, PtyEndpoint, TcpEndpoint
from mixbench.practice.hand import Hand, OnScreen
from mixbench.practice.hands import AtTheScale
from mixbench.practice.indication import Indication
from mixbench.practice.lines import FIRST_UNIT, RENDERERS
from mixbench.practice.pan import NOISE_G
from mixbench.practice.physics import BenchScale
from mixbench.practice.trouble import LineTrouble

LONGEST_WAIT_S = 0.1
"""How long the serving thread may be deaf to a pulled cable or to being stopped [s]."""
FASTEST_HZ = 100.0
ANSWER_TIMEOUT_S = 5.0


class PracticeScale(AtTheScale):
    """A scale without paint, at the other end of a real pty or TCP port.

    Parameters
    ----------
    profile
        Line shape it speaks, one of ``RENDERERS``.
    endpoint
        ``pty``, ``tcp`` (a free port of this machine), or an endpoint made beforehand.
    rate_hz
        Lines a second, up to 100; for ``sma`` the rate of its repeat command [1/s].
    resolution_g, capacity_g, noise_g
        Of the bench scale [g].
    seed
        Seed of noise, drops and garbage.
    clock
        Monotonic clock [s].

    Raises
    ------
    ProfileError
        It does not speak this profile.
    InputError
        Rate, resolution or capacity out of range.
    PortError
        The endpoint cannot be made.
    """

    def __init__(
        self,
        profile: str = "hdr2",
        endpoint: str | Endpoint = "pty",
        *,
        rate_hz: float = 10.0,
        resolution_g: float = 0.1,
        capacity_g: float = 6200.0,
        noise_g: float = NOISE_G,
        seed: int = 0,
        clock: Callable[[], float] = time.monotonic,
    ) -> None:
        _check(profile, rate_hz, resolution_g, capacity_g)
        self._bench = BenchScale(
            resolution_g=resolution_g,
            capacity_g=capacity_g,
            noise_g=noise_g,
            unit=FIRST_UNIT.get(profile, "g"),
            seed=seed,
        )
        self._talk = conversation(profile, self._bench)
        self._endpoint = _endpoint(endpoint)
        self._period_s = 1.0 / rate_hz
        self._clock = clock
        self._line = LineTrouble(Random(seed + 2))  # noqa: S311  for practice, not secrets
        self._lock = threading.Lock()
        self._asked: queue.SimpleQueue[tuple[Callable[[], None], Future[None]]] = (
            queue.SimpleQueue()
        )
        self._stop = threading.Event()
        self._thread = threading.Thread(target=self._serve, name="practice scale", daemon=True)

    @property
    def url(self) -> str:
        """What the program opens; it stays the same when the cable is pulled and put back."""
        return self._endpoint.url

    def start(self) -> None:
        """Switch the scale on."""
        self._thread.start()

    def stop(self) -> None:
        """Switch it off and take its port away; returns when both are done."""
        self._stop.set()
        if self._thread.is_alive():
            self._thread.join()
        self._endpoint.close()

    def __enter__(self) -> PracticeScale:
        self.start()
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None,
        error: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        self.stop()

    def hand(self, screen: Callable[[], OnScreen], *, seed: int = 0) -> Hand:
        """Return a hand at this scale that pours by what the screen says."""
        return Hand(self, screen, seed=seed)

    def set_rate(self, rate_hz: float) -> None:
        """Speak so many times a second from the next line on.

        Raises
        ------
        InputError
            The rate is out of range.
        """
        _check_rate(rate_hz)
        self._period_s = 1.0 / rate_hz

    # Trouble on the line -------------------------------------------------------------------------

    def cable_out(self) -> None:
        """Pull the cable; returns when the port is gone."""
        self._ask(self._endpoint.unplug)

    def cable_in(self) -> None:
        """Put the cable back; returns when the port can be opened again."""
        self._ask(self._endpoint.replug)

    def silence(self, seconds: float) -> None:
        """Say nothing for so long, with the port open, like a line without contact."""
        with self._lock:
            self._line.silence(self._clock() + seconds)

    def garbage(self, count: int) -> None:
        """Send so many random bytes before the next line."""
        with self._lock:
            self._line.garbage(count)

    def halve(self, count: int) -> None:
        """Break so many lines off somewhere before their end."""
        with self._lock:
            self._line.halve(count)

    def double(self, count: int) -> None:
        """Send each of so many lines twice."""
        with self._lock:
            self._line.double(count)

    def wrong_parity(self, *, on: bool) -> None:
        """Send 7 bits and even parity to a host that reads 8 and none, or as it should be again."""
        with self._lock:
            self._line.parity_is_wrong = on

    # What there is to know -----------------------------------------------------------------------

    def indication(self) -> Indication:
        """Return what the display shows now."""
        with self._lock:
            return self._bench.step(self._clock())

    @property
    def awake(self) -> bool:
        """Whether it is switched on and past its self-test."""
        with self._now() as bench:
            return bench.awake

    @property
    def rate_hz(self) -> float:
        """Lines a second [1/s]."""
        return 1.0 / self._period_s

    @property
    def load_g(self) -> float:
        """What truly stands on the pan [g]."""
        with self._now() as bench:
            return bench.load_g

    @property
    def pouring(self) -> bool:
        """Whether paint is running, dripping off the lip, or in the air."""
        with self._now() as bench:
            return not bench.paint.at_rest

    @contextmanager
    def _now(self) -> Iterator[BenchScale]:
        with self._lock:
            self._bench.step(self._clock())
            yield self._bench

    def _ask(self, action: Callable[[], None]) -> None:
        """Have the serving thread do something to the endpoint, and wait until it is done."""
        done: Future[None] = Future()
        self._asked.put((action, done))
        done.result(ANSWER_TIMEOUT_S)

    def _serve(self) -> None:
        due_s = self._clock()
        while not self._stop.is_set():
            self._do_asked()
            data = self._endpoint.wait(min(max(due_s - self._clock(), 0.0), LONGEST_WAIT_S))
            now_s = self._clock()
            is_due = now_s >= due_s
            out = self._say(data, now_s, is_due=is_due)
            if out:
                self._endpoint.write(out)
            if is_due:  # a thread that was held up does not catch up with a burst of lines
                due_s = max(due_s + self._period_s, now_s)

    def _say(self, data: bytes, now_s: float, *, is_due: bool) -> bytes:
        with self._lock:
            said = self._talk.hear(self._line.incoming(data), now_s) if data else b""
            if is_due:
                said += self._talk.speak(now_s)
            return self._line.outgoing(said, now_s)

    def _do_asked(self) -> None:
        while not self._asked.empty():
            action, done = self._asked.get()
            try:
                action()
            except Exception as error:  # noqa: BLE001  it belongs to the one who asked
                done.set_exception(error)
            else:
                done.set_result(None)


def _check(profile: str, rate_hz: float, resolution_g: float, capacity_g: float) -> None:
    if profile not in RENDERERS:
        raise ProfileError(
            _("The practice scale does not speak profile {name}.").format(name=repr(profile)),
            remedy=_("It speaks {known}.").format(known=", ".join(sorted(RENDERERS))),
        )
    _check_rate(rate_hz)
    if not 0.0 < resolution_g < capacity_g:
        raise InputError(
            _("A scale cannot show steps of {step} g and weigh up to {most} g.").format(
                step=resolution_g, most=capacity_g
            ),
            remedy=_("Choose a resolution above zero and below the capacity."),
        )


def _check_rate(rate_hz: float) -> None:
    if not 0.0 < rate_hz <= FASTEST_HZ:
        raise InputError(
            _("{rate} lines a second cannot be sent.").format(rate=rate_hz),
            remedy=_("Choose a rate above 0 and up to {most}.").format(most=FASTEST_HZ),
        )


def _endpoint(kind: str | Endpoint) -> Endpoint:
    if not isinstance(kind, str):
        return kind
    if kind == "pty":
        return PtyEndpoint()
    if kind == "tcp":
        return TcpEndpoint()
    raise InputError(
        _("There is no endpoint {kind}.").format(kind=repr(kind)), remedy=_("Choose pty or tcp.")
    )
