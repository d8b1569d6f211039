"""The scale of a bench as the shop looks after it: its checks, its lead, and what they allow."""

from __future__ import annotations

from mixbench.errors import UncheckedScaleError
from mixbench.i18n import _
from mixbench.journal.recorder import Clock
from mixbench.ledger.bench import Bench
from mixbench.pouring.check_session import CheckSession
from mixbench.pouring.checking import CheckRules
from mixbench.weighing.checking import KnownWeight
from mixbench.weighing.learning import Lead
from mixbench.weighing.legal import AccuracyClass, WeightClass, scale_limit_g, weight_limit_g
from mixbench.weighing.standing import CheckState, Standing, standing


class ScaleDesk:
    """Checks the scale of one bench under the shop's rules, and says what the record knows of it.

    Where a scale is asked for by ``scale_id``, an empty one means the scale of the settings.
    """

    def __init__(self, bench: Bench, clock: Clock) -> None:
        self._bench = bench
        self._clock = clock

    @property
    def locks(self) -> bool:
        """Whether the shop pours on no scale whose check is questionable."""
        return self._bench.settings.on_overdue == "lock"

    @property
    def silent(self) -> bool:
        """Whether the shop wants to hear nothing of checks while mixing."""
        return self._bench.settings.on_overdue == "ignore"

    @property
    def now_ms(self) -> int:
        """Now [ms since 1970, UTC]."""
        return self._clock()

    @property
    def calibration_due(self) -> str:
        """Day its calibration ends, as ISO 8601 writes it; empty when not known."""
        return self._bench.settings.scale_calibration_due

    def scale_id(self, profile: str = "", port: str = "") -> str:
        """Return what tells a scale apart in the record.

        The number on its plate, else the adapter it hangs on, else profile and port. A scale on
        another port than that of the settings is another scale.
        """
        settings = self._bench.settings
        named = settings.scale_serial_number or settings.scale_adapter
        if named and port in ("", settings.scale_url):
            return named
        return f"{profile or settings.scale_profile}@{port or settings.scale_url}"

    def lead(self, scale_id: str = "") -> Lead:
        """Return how far ahead the lead looks, and from how many pours that was learned."""
        return self._bench.care.lead(scale_id or self.scale_id())

    def standing(self, scale_id: str = "") -> Standing:
        """Return what the latest check says now."""
        last = self._bench.care.last_check(scale_id or self.scale_id())
        return standing(last, self._clock(), self._bench.settings.check_every_h)

    def check_in_force(self, scale_id: str = "") -> int | None:
        """Return the entry of the check a pot may lean on, or None.

        Raises
        ------
        UncheckedScaleError
            There is none, one is asked for, and the shop pours on no such scale.
        """
        now = self.standing(scale_id)
        if now.questionable and self.locks:
            raise UncheckedScaleError(
                standing_words(now.state),
                kept=_("No pot was started."),
                remedy=_("Check the scale with the known weight first."),
            )
        return now.in_force

    def check(
        self, *, weight: KnownWeight | None = None, profile: str = "", port: str = "", by: str = ""
    ) -> CheckSession:
        """Return a check about to begin, by default with the shop's weight.

        Raises
        ------
        ValidityError
            There is no such weight, or it has more intervals than the scale's class knows.
        """
        settings = self._bench.settings
        nominal_g = settings.check_weight_g if weight is None else weight.nominal_g
        if weight is None:
            weight = KnownWeight(nominal_g, WeightClass(settings.check_weight_class))
        weight_limit_g(weight.weight_class, nominal_g)
        limit_g, e_g = settings.check_limit_g, None
        if settings.scale_class:
            e_g = settings.scale_e_g or settings.scale_step_g
            accuracy = AccuracyClass(settings.scale_class)
            limit_g = scale_limit_g(accuracy, e_g, nominal_g, in_service=True)
        rules = CheckRules(
            weight,
            {
                "id": self.scale_id(profile, port),
                "profile": profile or settings.scale_profile,
                "port": port or settings.scale_url,
            },
            limit_g,
            limit_of=settings.scale_class,
            e_g=e_g,
            still_s=settings.still_s,
            still_steps=settings.still_steps,
        )
        return CheckSession(self._bench.journal, rules, by=by or settings.person)


def standing_words(state: CheckState) -> str:
    """Return a sentence on what the latest check says now."""
    return {
        CheckState.NOT_ASKED: _("The shop asks for no check of this scale."),
        CheckState.NEVER: _("This scale has not been checked yet."),
        CheckState.IN_FORCE: _("The check of this scale is in force."),
        CheckState.OVERDUE: _("The check of this scale is overdue."),
        CheckState.UNDECIDED: _("The last check of this scale could not tell."),
        CheckState.FAILED: _("This scale failed its last check."),
    }[state]
