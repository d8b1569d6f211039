"""Where pots begin and go on: from an order to a session, for the window and the commands alike."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import replace

from mixbench.errors import AmountError, Problem
from mixbench.i18n import _
from mixbench.journal.recorder import Clock, wall_clock_ms
from mixbench.ledger.bench import Bench
from mixbench.ledger.pots import PotRow
from mixbench.ledger.scale_care import scale_of
from mixbench.ledger.shop import Shop
from mixbench.mixing.fit import fit
from mixbench.mixing.model import Amount, Cup, Mix, Recipe, ScaleLimits, Targets
from mixbench.mixing.targets import reference_for, targets
from mixbench.mixing.variants import chosen_values, mix_for
from mixbench.pouring.control import Order
from mixbench.pouring.facts import Fact
from mixbench.pouring.scale_desk import ScaleDesk
from mixbench.pouring.session import PourSession
from mixbench.pouring.state import PourRules


class Desk:
    """Starts and resumes the pots of one bench under the shop's rules.

    ``care`` looks after its scale.
    """

    def __init__(self, bench: Bench, shop: Shop, clock: Clock = wall_clock_ms) -> None:
        self._bench = bench
        self.shop = shop
        self.care = ScaleDesk(bench, clock)

    @property
    def rules(self) -> PourRules:
        """How the shop wants pours judged."""
        settings = self._bench.settings
        return PourRules(
            still_s=settings.still_s,
            still_steps=settings.still_steps,
            mismatch_g=settings.mismatch_g,
            lot_rule=settings.lot_rule,
            lots=self.shop.lots,
            names=self._bench.library.product_names,
        )

    @property
    def scale(self) -> ScaleLimits:
        """What this bench's scale can weigh."""
        settings = self._bench.settings
        return ScaleLimits(settings.scale_capacity_g, settings.scale_step_g)

    def order(
        self,
        recipe: Recipe,
        choices: Mapping[str, str],
        wanted: Amount,
        cup: Cup,
        *,
        temperature_c: float | None = None,
        profile: str = "",
        port: str = "",
        job: str = "",
    ) -> Order:
        """Return an order that the cup and the scale can hold.

        Raises
        ------
        AmountError
            The cup or the scale cannot hold it, or a component is less than the scale can show;
            every reason is given.
        ChoiceError
            A choice is missing, or not offered.
        """
        settings = self._bench.settings
        at_c = settings.temperature_c if temperature_c is None else temperature_c
        mix = mix_for(recipe, choices, at_c)
        reference_g = reference_for(mix, wanted)
        plan = targets(mix, reference_g)
        against = (
            *fit(plan, cup, self.scale, cup.empty_g or 0.0),
            *_too_little(mix, plan, self.scale.step_g),
        )
        if against:
            raise AmountError(
                " ".join(problem.what for problem in against),
                remedy=" ".join(problem.remedy for problem in against),
            )
        return Order(
            recipe=recipe,
            choices=chosen_values(recipe, choices),
            mix=mix,
            wanted=wanted,
            reference_g=reference_g,
            cup=cup,
            scale=self.scale,
            profile=profile or settings.scale_profile,
            port=port or settings.scale_url,
            temperature_c=at_c,
            job=job,
            scale_id=self.care.scale_id(profile, port),
        )

    def start(self, order: Order, *, by: str = "") -> PourSession:
        """Record a new pot and return its session.

        Raises
        ------
        AmountError
            Another pot is half poured: one bench has one pot at a time.
        UncheckedScaleError
            The scale's check is overdue or failed, and the shop pours on no such scale.
        JournalError
            The pot could not be recorded; nothing was started.
        """
        waiting = self.unfinished()
        if waiting is not None:
            raise AmountError(
                _("Pot {number} ({recipe}) is half poured.").format(
                    number=waiting.number, recipe=waiting.recipe_name
                ),
                kept=_("It is kept as it stands."),
                remedy=_("Finish it or throw it away first."),
            )
        if not order.scale_id:
            order = replace(order, scale_id=self.care.scale_id(order.profile, order.port))
        check = self.care.check_in_force(order.scale_id)
        number = self._bench.pots.next_number()
        return PourSession.start(
            self._bench.journal,
            order,
            self.rules,
            pot=f"{self._bench.settings.bench}-{number}",
            number=number,
            by=by or self._bench.settings.person,
            check=check,
            lead_s=self.care.lead(order.scale_id).time_s,
        )

    def unfinished(self) -> PotRow | None:
        """Return the pot left half poured, or None."""
        return self._bench.pots.unfinished()

    def resume(self, *, by: str = "") -> PourSession | None:
        """Return the session of the pot left half poured, or None when there is none."""
        waiting = self.unfinished()
        if waiting is None:
            return None
        recorded = [Fact(entry.kind, entry.body) for entry in self._bench.pots.entries(waiting)]
        return PourSession.resume(
            self._bench.journal,
            recorded,
            self.rules,
            by=by or self._bench.settings.person,
            lead_s=self.care.lead(scale_of(recorded[0].body["scale"])).time_s,
        )


def _too_little(mix: Mix, plan: Targets, step_g: float) -> Iterator[Problem]:
    """Yield a reason for every component of which the scale cannot show even one step."""
    for product, mass_g in zip(mix.products, plan.mass_g, strict=True):
        if 0 < mass_g < step_g:
            yield Problem(
                _("amount"),
                _("{mass} g of {product} are less than one step of the scale, {step} g.").format(
                    mass=f"{mass_g:.3f}", product=product.name, step=f"{step_g:g}"
                ),
                _("Make more, or use a finer scale."),
            )
