"""Every look of the Pour page, reached by pouring: for tests that walk them, and for pictures."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

from mixbench.errors import JournalWriteError
from mixbench.gui.presenters.pour_state import Action
from mixbench.mixing.model import Mix, PotLife, Product
from mixbench.pouring.control import Order
from mixbench.weighing.reading import Load
from tests.helpers.pots import simple_order, with_rules
from tests.helpers.pour_bench import LOTS, PourBench

SCANNING = with_rules(lot_rule="listed", lots=LOTS)


def two_pack_order(**changes: object) -> Order:
    """Return an order whose sheet gives a pot life."""
    order = simple_order(**changes)
    return replace(order, recipe=replace(order.recipe, pot_life=(PotLife(3600.0, 20.0),)))


def large_order() -> Order:
    """Return an order that needs all the room the number has."""
    return two_pack_order(reference_g=1400.0, capacity_ml=4000.0)


def tint_order(count: int = 12) -> Order:
    """Return a basecoat of many tints, by mass."""
    names = [f"Tint {letter}{at} deep" for at, letter in enumerate("ABCDEFGHJKLM"[:count], 1)]
    products = tuple(Product(f"T{at}", name, "tint", 1.1, 20.0) for at, name in enumerate(names))
    ratio = tuple(round(1.0 / (1 + at), 3) for at in range(count))
    mix = Mix(
        codes=tuple(product.code for product in products),
        products=products,
        reference=0,
        ratio=ratio,
        low=tuple(one * 0.99 for one in ratio),
        high=tuple(one * 1.01 for one in ratio),
        density_g_ml=(1.1,) * count,
    )
    return replace(simple_order(reference_g=100.0, capacity_ml=700.0), mix=mix, job="bonnet, roof")


def cup_asked() -> PourBench:
    return PourBench(two_pack_order(), SCANNING)


def cup_differs() -> PourBench:
    return cup_asked().cup(31.0)


def scan_first() -> PourBench:
    return cup_asked().cup()


def scan_hardener() -> PourBench:
    return pouring_base().pour(200.0)


def wrong_tin() -> PourBench:
    return scan_hardener().scan("B-77")


def pouring_base() -> PourBench:
    return scan_first().scan("B-77").wait(0.2)


def pouring_hardener() -> PourBench:
    return scan_hardener().scan("7K-0412").wait(0.2)


def hardener_untouched() -> PourBench:
    return pouring_hardener()


def moving_far() -> PourBench:
    return PourBench(large_order(), SCANNING).cup().scan("B-77").stream(380.0)


def moving_near() -> PourBench:
    return pouring_hardener().stream(60.0).stream(24.0, 6.0)


def soon() -> PourBench:
    return pouring_hardener().stream(84.0, 20.0)


def inside() -> PourBench:
    return pouring_hardener().stream(80.0).stream(20.0, 3.0)


def past_moving() -> PourBench:
    return pouring_hardener().stream(106.0, 12.0)


def wait_short() -> PourBench:
    return pouring_hardener().stream(84.0).silence(1.5)


def no_reading() -> PourBench:
    return pouring_hardener().stream(84.0).silence(6.0)


def overpoured() -> PourBench:
    return pouring_base().pour(206.0)


def overpoured_enough() -> PourBench:
    bench = overpoured()
    return bench.press(Action.PICK_ENOUGH)


def overpoured_refused() -> PourBench:
    return PourBench(two_pack_order(capacity_ml=262.0), SCANNING).cup().scan("B-77").pour(240.0)


def overpoured_long() -> PourBench:
    bench = PourBench(tint_order()).cup().pour(100.0).pour(50.0).pour(33.3)
    return bench.pour(29.0)


def topping_up() -> PourBench:
    bench = scan_hardener().scan("7K-0412").pour(106.0)
    return bench.press(Action.GO_ON).wait(0.3)


def lead_asked() -> PourBench:
    return overpoured().press(Action.ASK_LEAD)


def lead_name() -> PourBench:
    return lead_asked().press(Action.ACCEPT_DEVIATION)


def lead_reason() -> PourBench:
    return lead_name().scan("Lee")


def cup_off() -> PourBench:
    bench = pouring_hardener().stream(40.0)
    bench.lift()
    return bench


def lighter() -> PourBench:
    bench = pouring_hardener()
    bench.load_g -= 2.4
    return bench.wait()


def heavier() -> PourBench:
    bench = pouring_hardener().stream(40.0)
    load_g = bench.lift()
    bench.load_g = load_g + 12.0
    return bench.wait()


def resumed() -> PourBench:
    bench = pouring_hardener().stream(40.0)
    bench.restart(SCANNING)
    bench.load_g = 0.0
    return bench.wait(0.5)


def overload() -> PourBench:
    return pouring_hardener().read(mass_g=None, load=Load.OVER, text="OL")


def wrong_unit() -> PourBench:
    return pouring_hardener().read(mass_g=None, unit="oz", text="  7.05 oz")


def port_gone() -> PourBench:
    bench = pouring_hardener()
    bench.session.port_changed(is_open=False)
    return bench


def not_recorded() -> PourBench:
    bench = pouring_hardener()

    def refuse(*_args: object, **_named: object) -> None:
        raise JournalWriteError(
            "The record cannot be written: no space left on the disk.",
            kept="Everything accepted before is kept.",
            remedy="Free some space; it is tried again every second.",
        )

    bench.session._recorder = replace_append(bench, refuse)
    return bench.pour(100.0)


def replace_append(bench: PourBench, refuse: Callable[..., None]) -> object:
    """Return a recorder that refuses every fact."""
    recorder = type("FullDisk", (), {"append": staticmethod(refuse)})()
    recorder.entries = bench.journal.entries
    recorder.find_op = bench.journal.find_op
    return recorder


def reopened() -> PourBench:
    return scan_hardener().press(Action.UNDO).wait(0.3)


def stopped() -> PourBench:
    return moving_near().press(Action.STOP)


def discarding() -> PourBench:
    return stopped().press(Action.DISCARD)


def thrown_away() -> PourBench:
    return discarding().press(Action.DISCARD_SURELY)


def done() -> PourBench:
    return pouring_hardener().pour(100.0).scan("T-9").pour(20.0, 5.0)


def done_long() -> PourBench:
    bench = PourBench(tint_order()).cup()
    while not bench.session.ended:
        bench.pour(bench.session.state.pot.plan.mass_g[bench.session.state.pot.active], 8.0)
    return bench


SCENES: dict[str, Callable[[], PourBench]] = {
    scene.__name__: scene
    for scene in (
        cup_asked, cup_differs, scan_first, scan_hardener, wrong_tin, hardener_untouched,
        moving_far, moving_near, soon, inside, past_moving, wait_short, no_reading,
        overpoured, overpoured_enough, overpoured_refused, overpoured_long, topping_up,
        lead_asked, lead_name, lead_reason, cup_off, lighter, heavier, resumed, overload,
        wrong_unit, port_gone, not_recorded, reopened, stopped, discarding, thrown_away,
        done, done_long,
    )
}  # fmt: skip
