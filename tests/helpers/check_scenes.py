"""Looks of the page on which the scale is checked, from real checks on an imagined pan."""

from __future__ import annotations

from collections.abc import Callable

from mixbench.errors import JournalWriteError, ValidityError
from mixbench.gui.presenters.check import CheckAction, CheckPageState, CheckPresenter
from mixbench.journal.memory import MemoryJournal
from mixbench.pouring.check_session import CheckSession
from mixbench.pouring.checking import CheckRules
from mixbench.weighing.checking import CheckVerdict, KnownWeight
from mixbench.weighing.learning import Lead
from mixbench.weighing.legal import WeightClass
from mixbench.weighing.reading import Basis, Load, Reading, ScaleState
from mixbench.weighing.standing import CheckRecord, Standing, standing
from tests.helpers.pour_bench import NOON_MS, RecordingView

RULES = CheckRules(
    KnownWeight(1000.0, WeightClass.F2),
    {"id": "SN-1", "profile": "hdr2", "port": "/dev/x"},
    limit_g=0.2,
    limit_of="II",
    e_g=0.1,
)


class FullDisk(MemoryJournal):
    """A journal that cannot write."""

    def append(self, kind, body, *, by, op=None, version=1):
        raise JournalWriteError("The disk is full.", remedy="Free some space.")


class StandInCare:
    """What is known of a scale, without a bench."""

    def __init__(self, **known: object) -> None:
        self.journal: MemoryJournal = MemoryJournal("B1", clock=lambda: NOON_MS)
        self.locks = self.silent = False
        self.calibration_due = ""
        self.now_ms = NOON_MS
        self.last: CheckRecord | None = None
        self.taught = Lead()
        self.rules = RULES
        self.refuses = False
        for name, value in known.items():
            setattr(self, name, value)

    def standing(self) -> Standing:
        return standing(self.last, self.now_ms, 24.0)

    def lead(self) -> Lead:
        return self.taught

    def check(self) -> CheckSession:
        if self.refuses:
            raise ValidityError("300 g is no test weight of the table.", remedy="Give 200 g.")
        return CheckSession(self.journal, self.rules, by="ana")


def passed(hours_ago: float = 1.0, verdict: CheckVerdict = CheckVerdict.PASS) -> CheckRecord:
    at_ms = NOON_MS - round(hours_ago * 3_600_000)
    return CheckRecord(7, at_ms, "ana", verdict, 1000.0, "F2", 0.1, 0.0837, 0.2)


class CheckBench:
    """A check page without a window: put things on the pan, look at what it shows."""

    def __init__(
        self, care: StandInCare | None = None, *, view: object = None, language: str = "en"
    ) -> None:
        self.care = care or StandInCare()
        self.view = view or RecordingView()
        self.went: list[str] = []
        self.presenter = CheckPresenter(self.care, self.view, self, language=language)
        self.now_s = 0.0
        self.presenter.begin()
        self.scale = ScaleState.STEADY
        self.presenter.refresh(self.scale, self.now_s)

    def other_pages(self) -> None:
        self.went.append("other pages")

    def mix(self) -> None:
        self.went.append("mix")

    @property
    def page(self) -> CheckPageState:
        self.presenter.refresh(self.scale, self.now_s)
        return self.view.states[-1]

    def show(self, mass_g: float, seconds: float = 1.5) -> CheckBench:
        for _count in range(round(seconds * 10)):
            self.now_s += 0.1
            self.presenter.weigh(
                Reading(self.now_s, mass_g, 0.1, True, Basis.GROSS, Load.OK, "g", "")
            )
            self.presenter.refresh(self.scale, self.now_s)
        return self

    def press(self, action: CheckAction) -> CheckBench:
        assert action in [target.action for target in self.page.targets]
        self.presenter.act(action)
        return self


def after(*shown_g: float, **known: object) -> Callable[..., CheckBench]:
    """Return what makes a bench that has seen these weights."""

    def make(**where: object) -> CheckBench:
        bench = CheckBench(StandInCare(**known), **where)
        for mass_g in shown_g:
            bench.show(mass_g)
        return bench

    return make


CHECK_SCENES: dict[str, Callable[..., CheckBench]] = {
    "empty": after(18.0),
    "weight": after(0.0, last=passed(30), calibration_due="2027-03-31", taught=Lead(1.07, 28)),
    "doubted": after(0.0, 500.0, calibration_due="2020-01-31"),
    "passed": after(0.0, 1000.1, last=passed()),
    "failed": after(0.0, 1000.6, last=passed(0, CheckVerdict.FAIL)),
    "cannot-tell": after(0.0, 1000.2, last=passed(0, CheckVerdict.CANNOT_TELL)),
    "not-recorded": lambda **where: after(0.0, 1000.0, journal=FullDisk("B1"))(**where),
    "refused": after(refuses=True),
}
