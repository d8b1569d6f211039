"""The gun card: figures side by side, coats that count half, slips of the unit refused."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from mixbench.errors import NotationError, RangeError, ValidityError
from mixbench.mixing.gun import (
    Coat,
    GunCard,
    Span,
    bar_to_psi,
    coats_text,
    parse_coats,
    psi_to_bar,
)

NOZZLE = Span(1.3, 1.4)
"""For a wet-on-wet surfacer (common practice, no source)."""
INLET = Span(1.5, 1.8)
"""Reads as about 22 to 26 psi (common practice, no source)."""


@given(st.floats(0.0, 100.0))
def test_pressures_convert_there_and_back(pressure_bar: float) -> None:
    assert psi_to_bar(bar_to_psi(pressure_bar)) == pytest.approx(pressure_bar)


@given(st.lists(st.sampled_from(Coat), min_size=1, max_size=6).map(tuple))
def test_coats_read_back_as_they_were_sprayed(coats: tuple[Coat, ...]) -> None:
    written = " + ".join("1/2" if coat is Coat.HALF else "1" for coat in coats)
    assert parse_coats(written) == coats
    assert GunCard(NOZZLE, INLET, coats).full_coats == sum(coat.value for coat in coats)


def test_a_card_shows_every_figure_it_has() -> None:
    darker = parse_coats("½ + 1")
    lines = GunCard(NOZZLE, INLET, darker).lines
    assert lines == (
        "Nozzle 1.3–1.4 mm",
        "Inlet 1.5–1.8 bar (22–26 psi)",
        "1 half coat, then 1 full coat",
    )
    far = GunCard(NOZZLE, INLET, darker, Span(150.0, 200.0))
    assert "Distance 150–200 mm" in far.lines


def test_coats_of_a_kind_are_counted_together() -> None:
    assert coats_text((Coat.HALF, Coat.HALF, Coat.FULL)) == "2 half coats, then 1 full coat"


@pytest.mark.parametrize("text", ["1.5", "1,5", "1 1/2", "1½"])
def test_one_and_a_half_coats_leave_open_which_is_the_half(text: str) -> None:
    with pytest.raises(NotationError) as caught:
        parse_coats(text)
    assert caught.value.readings == ("1/2 + 1", "1 + 1/2")


def test_the_rest_of_the_text_stays_in_the_readings() -> None:
    with pytest.raises(NotationError) as caught:
        parse_coats("1 + 2.5")
    assert caught.value.readings == ("1 + 1/2 + 2", "1 + 2 + 1/2")
    for reading in caught.value.readings:
        assert len(parse_coats(reading)) == 4


@pytest.mark.parametrize("text", ["", "0", "1 +", "two", "1/3", "-1", "10", "0.7"])
def test_what_are_no_coats_is_refused_with_an_example(text: str) -> None:
    with pytest.raises(NotationError, match="Write full coats as a number"):
        parse_coats(text)


@pytest.mark.parametrize(
    ("nozzle", "inlet", "distance"),
    [
        (Span(13.0, 14.0), INLET, None),
        (NOZZLE, Span(22.0, 26.0), None),
        (NOZZLE, INLET, Span(15.0, 20.0)),
        (Span(math.nan, 1.4), INLET, None),
    ],
)
def test_a_slip_of_the_unit_is_refused(nozzle: Span, inlet: Span, distance: Span | None) -> None:
    with pytest.raises(RangeError):
        GunCard(nozzle, inlet, (Coat.FULL,), distance)


def test_a_card_needs_coats_and_spans_the_right_way_up() -> None:
    with pytest.raises(RangeError):
        GunCard(NOZZLE, INLET, ())
    with pytest.raises(RangeError, match="upside down"):
        GunCard(Span(1.4, 1.3), INLET, (Coat.FULL,))
    with pytest.raises(ValidityError):
        GunCard(Span(1.3, 5.0), INLET, (Coat.FULL,))


@pytest.mark.parametrize("bad", [-1.0, math.nan])
def test_a_pressure_that_cannot_be_is_refused(bad: float) -> None:
    with pytest.raises(RangeError):
        bar_to_psi(bad)
    with pytest.raises(RangeError):
        psi_to_bar(bad)
