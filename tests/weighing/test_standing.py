"""What the latest check of a scale still says, hour by hour and verdict by verdict."""

from dataclasses import replace

import pytest

from mixbench.weighing.checking import CheckVerdict
from mixbench.weighing.standing import MS_PER_H, CheckRecord, CheckState, standing

NOON = 1_780_000_000_000
PASSED = CheckRecord(12, NOON, "ana", CheckVerdict.PASS, 1000.0, "F2", 0.1, 0.08, 0.2)


def after(hours, last=PASSED, every_h=24.0):
    return standing(last, NOON + round(hours * MS_PER_H), every_h)


@pytest.mark.parametrize(
    ("hours", "state"),
    [
        (0, CheckState.IN_FORCE),
        (23.99, CheckState.IN_FORCE),
        (24, CheckState.OVERDUE),
        (1000, CheckState.OVERDUE),
        (-1, CheckState.IN_FORCE),
        (-24, CheckState.OVERDUE),
    ],
)
def test_a_passed_check_holds_for_its_hours_and_no_longer(hours, state):
    assert after(hours).state is state


def test_only_a_check_in_force_can_be_leaned_on():
    assert after(1).in_force == 12
    assert after(25).in_force is None
    assert after(1, replace(PASSED, verdict=CheckVerdict.CANNOT_TELL)).in_force is None


def test_when_the_next_one_is_due_is_said():
    assert after(1).due_ms == NOON + 24 * MS_PER_H


@pytest.mark.parametrize("hours", [0, 1, 1000])
@pytest.mark.parametrize("every_h", [0.0, 24.0])
def test_a_failed_scale_stays_failed_until_another_check(hours, every_h):
    failed = replace(PASSED, verdict=CheckVerdict.FAIL)
    assert after(hours, failed, every_h).state is CheckState.FAILED
    assert after(hours, failed, every_h).questionable


def test_a_check_that_could_not_tell_renews_nothing():
    undecided = replace(PASSED, verdict=CheckVerdict.CANNOT_TELL)
    assert after(0, undecided).state is CheckState.UNDECIDED


def test_a_shop_that_asks_for_none_is_left_alone():
    assert standing(None, NOON, 0.0).state is CheckState.NOT_ASKED
    assert not standing(None, NOON, 0.0).questionable
    assert standing(None, NOON, 24.0).questionable
