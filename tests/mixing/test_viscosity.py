"""Flow cups there and back, and never one without its standard."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from mixbench.errors import ChoiceError, RangeError, ValidityError
from mixbench.mixing.viscosity import (
    CUPS,
    CupStandard,
    FlowCup,
    cup_named,
    cups_for,
    flow_time_s,
    same_paint_s,
    viscosity_mm2_s,
)

cups = st.sampled_from(CUPS)
shares = st.floats(0.0, 1.0)


def seconds(cup: FlowCup, share: float) -> float:
    """Return a flow time within the range of a cup."""
    return cup.shortest_s + share * (cup.longest_s - cup.shortest_s)


@given(cups, shares)
def test_a_flow_time_turned_into_viscosity_and_back_is_the_same(cup: FlowCup, share: float) -> None:
    flow_s = seconds(cup, share)
    assert flow_time_s(viscosity_mm2_s(flow_s, cup), cup) == pytest.approx(flow_s)
    assert same_paint_s(flow_s, cup, cup) == pytest.approx(flow_s)


@given(cups, shares, shares)
def test_thicker_paint_takes_longer(cup: FlowCup, one: float, other: float) -> None:
    fast, slow = sorted((seconds(cup, one), seconds(cup, other)))
    assert viscosity_mm2_s(fast, cup) <= viscosity_mm2_s(slow, cup)


@given(cups, shares)
def test_every_cup_is_offered_for_what_it_can_measure(cup: FlowCup, share: float) -> None:
    offered = cups_for(viscosity_mm2_s(seconds(cup, share), cup))
    assert cup in offered or share in (0.0, 1.0)
    assert cup in cups_for(viscosity_mm2_s(seconds(cup, 0.5), cup), cup.standard)


@pytest.mark.parametrize("cup", CUPS, ids=lambda cup: cup.name)
def test_every_cup_has_its_own_name_and_is_found_by_it(cup: FlowCup) -> None:
    assert cup_named(cup.name) is cup
    assert cup_named(cup.name.upper().replace(",", "")) is cup
    assert cup.at(cup.shortest_s) > 0.0


def test_the_two_four_millimetre_cups_differ_about_threefold() -> None:
    iso, din = cup_named("ISO 2431 4 mm"), cup_named("DIN 53211 4 mm")
    for flow_s in (35.0, 60.0, 100.0):
        factor = viscosity_mm2_s(flow_s, din) / viscosity_mm2_s(flow_s, iso)
        assert 2.8 < factor < 3.7


def test_the_slip_of_a_public_module_is_not_followed() -> None:
    """That module codes 0.567 for Shell no. 2 where its own table says 0.576."""
    assert cup_named("Shell 2").a == 0.576


@pytest.mark.parametrize("text", ["4 mm", "4mm cup", "4", "cup", "no. 4"])
def test_a_cup_without_its_standard_is_refused_with_all_it_could_be(text: str) -> None:
    with pytest.raises(ChoiceError, match="Name the standard too") as caught:
        cup_named(text)
    assert "ISO 2431, 4 mm" in str(caught.value) or "no. 4" in str(caught.value)


def test_a_standard_without_its_size_is_refused() -> None:
    with pytest.raises(ChoiceError, match="Name the size too"):
        cup_named("ISO 2431")


@pytest.mark.parametrize("text", ["", "Ford 9", "JIS 4 mm", "7 mm"])
def test_a_cup_nobody_knows_is_refused_with_examples(text: str) -> None:
    with pytest.raises(ChoiceError, match="Write standard and size"):
        cup_named(text)


@pytest.mark.parametrize("text", ["iso2431 4mm", "ISO 4 mm", "ISO 2431, 4 mm"])
def test_a_cup_may_be_written_short(text: str) -> None:
    assert cup_named(text).standard is CupStandard.ISO


@given(cups)
def test_times_just_outside_the_range_are_refused(cup: FlowCup) -> None:
    for outside_s in (cup.shortest_s - 0.1, cup.longest_s + 0.1):
        with pytest.raises(ValidityError, match="it holds from"):
            viscosity_mm2_s(outside_s, cup)
        with pytest.raises(ValidityError, match="it holds from"):
            flow_time_s(cup.at(outside_s), cup)


def test_a_refusal_names_the_cup_that_fits_or_says_there_is_none() -> None:
    with pytest.raises(ValidityError, match="Use ISO 2431, 5 mm"):
        flow_time_s(200.0, cup_named("ISO 2431 4 mm"))
    with pytest.raises(ValidityError, match="No cup of this standard fits"):
        viscosity_mm2_s(10.0, cup_named("DIN 53211 4 mm"))
    with pytest.raises(ValidityError, match="No cup of this standard fits"):
        viscosity_mm2_s(10.0, cup_named("Zahn 1"))


@pytest.mark.parametrize("bad", [0.0, -1.0, math.nan, math.inf])
def test_figures_that_cannot_be_are_refused(bad: float) -> None:
    cup = cup_named("Ford 4")
    for compute in (lambda: viscosity_mm2_s(bad, cup), lambda: flow_time_s(bad, cup)):
        with pytest.raises(RangeError):
            compute()
    with pytest.raises(RangeError):
        cups_for(bad)
