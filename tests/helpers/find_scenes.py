"""Every look of "Find my scale"; the ports and the scale are invented."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date

from mixbench.errors import PortError
from mixbench.gui.presenters.finding import FindPresenter
from mixbench.gui.presenters.finding_state import FindAction
from mixbench.scales.events import LineUnmatched, ReadingArrived
from mixbench.scales.finding import BytesHeard, Heard, SearchEnded, Step, Trying
from mixbench.scales.fitting import Fit, ranked
from mixbench.scales.lines import parse
from mixbench.scales.ports import ListedPort
from mixbench.scales.profiles import load_profiles, profile, shipped_profiles
from mixbench.scales.shape import SerialSettings
from mixbench.settings import Settings

CABLE = ListedPort("/dev/ttyUSB0", "USB serial cable", "1A2B:0001:77")
PRINTER = ListedPort("/dev/ttyACM0", "Label printer", "9999:0001:1")
BUILT_IN = ListedPort("/dev/ttyS0", "", "")
PORTS = (CABLE, PRINTER, BUILT_IN)
PROFILES = tuple(load_profiles(shipped_profiles()).values())
TODAY = date(2026, 11, 25)

MARKED = b"ST,GS,+   412.3  g\r\nUS,GS,+   413.0  g\r\nST,GS,+   413.2  g\r\n"
BLANK_MARK = b"       412.3 g  \r\n" * 4
NO_UNIT = b"0,010.000,000.200,009.800\r\n1,010.010,000.200,009.810\r\n"
UNKNOWN = b"weight=12.3;g\r\nweight=12.4;g\r\n"
NOISE = b"\xf8\x00\x98\x1e\xff\x80\x07" * 6


class StandInRoom:
    """Does what the page asks for on paper, and remembers it."""

    def __init__(self, ports: tuple[ListedPort, ...] = PORTS) -> None:
        self.listed = ports
        self.kept = Settings(scale_name="old scale")
        self.searched: list[str] = []
        self.listened: list[tuple[SearchEnded, Fit]] = []
        self.left: list[str] = []
        self.refuses: Exception | None = None

    def ports(self) -> tuple[ListedPort, ...]:
        return self.listed

    def search(self, url: str) -> None:
        self.searched.append(url)

    def listen(self, ended: SearchEnded, fit: Fit) -> None:
        self.listened.append((ended, fit))

    def settings(self) -> Settings:
        return self.kept

    def save(self, settings: Settings) -> None:
        if self.refuses is not None:
            raise self.refuses
        self.kept = settings

    def leave(self, *, mix: bool) -> None:
        self.left.append("mix" if mix else "other pages")


def ended(data: bytes, settings: SerialSettings | None = None, url: str = CABLE.url) -> SearchEnded:
    """Return the end of a search that heard this."""
    step = Step(settings or SerialSettings())
    return SearchEnded(url, Heard(step, data, ranked(PROFILES, data, mid_stream=False)))


Move = Callable[[FindPresenter], None]


def press(*actions: FindAction) -> Move:
    return lambda page: [page.act(action) for action in actions][:0]


def type_(text: str) -> Move:
    return lambda page: [page.typed(letter) for letter in text][:0]


def hear(*events: object) -> Move:
    return lambda page: [page.on_search(event) for event in events][:0]


def scale_says(line: bytes) -> Move:
    return lambda page: page.on_scale(ReadingArrived(parse(profile("hdr2"), line, 0.0)))


FIRST = press(FindAction.TILE_0)
FOUND = (FIRST, hear(Trying(Step(SerialSettings())), BytesHeard(MARKED), ended(MARKED)))
USED = (*FOUND, press(FindAction.USE))


def question(count: int) -> tuple[Move, ...]:
    """Return the way to the question of this number."""
    return (*USED, *[press(FindAction.NEXT)] * (count - 1))


FIND_SCENES: dict[str, tuple[Move, ...]] = {
    "ports": (),
    "ports-more": (press(FindAction.MORE),),
    "address": (press(FindAction.TILE_2), type_("socket://192.168.1.20:4001")),
    "opening": (FIRST,),
    "listening": (FIRST, hear(Trying(Step(SerialSettings(2400))), BytesHeard(NOISE))),
    "asking": (FIRST, hear(Trying(Step(SerialSettings(), b"\nW\r")))),
    "silent": (FIRST, hear(SearchEnded(CABLE.url, None))),
    "unknown": (FIRST, hear(BytesHeard(UNKNOWN), ended(UNKNOWN))),
    "noise": (FIRST, hear(BytesHeard(NOISE), ended(NOISE))),
    "refused": (
        FIRST,
        hear(
            SearchEnded(
                CABLE.url,
                None,
                PortError(
                    "The port /dev/ttyUSB0 cannot be opened (permission denied).",
                    remedy="Add the user to the group dialout and log in again.",
                ),
            )
        ),
    ),
    "found": (*FOUND, scale_says(b"ST,GS,+   413.4  g")),
    "found-blank": (FIRST, hear(BytesHeard(BLANK_MARK), ended(BLANK_MARK))),
    "found-no-unit": (FIRST, hear(BytesHeard(NO_UNIT), ended(NO_UNIT))),
    "found-unread": (*FOUND, lambda page: page.on_scale(LineUnmatched("NO PAPER", 3, "x"))),
    "name": question(1),
    "capacity": question(2),
    "step": question(3),
    "class": question(4),
    "class-refused": (*question(4), type_("V"), press(FindAction.NEXT)),
    "serial": question(5),
    "due": (*question(6), press(FindAction.TILE_0)),
    "saved": (*question(6), press(FindAction.TILE_0, FindAction.NEXT)),
}


def find_on(*moves: Move, ports: tuple[ListedPort, ...] = PORTS) -> Callable[[object, str], None]:
    """Return what shows the page after some moves."""

    def show(window: object, language: str) -> None:
        page = window.finder
        presenter = FindPresenter(page, StandInRoom(ports), language=language, today=lambda: TODAY)
        presenter.open()
        for move in moves:
            move(presenter)
        window.show_page(page)

    return show
