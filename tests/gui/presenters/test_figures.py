"""Numbers as people read them: mark by language, groups by a narrow space, never past d."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from mixbench.gui.presenters.figures import (
    MINUS,
    NARROW_SPACE,
    CalmFigure,
    Figures,
    figures_for,
    typed_number,
)


@pytest.mark.parametrize(
    ("language", "text"),
    [
        ("de", "1\u202f234,5"),
        ("en", "1\u202f234.5"),
        ("fr_FR", "1\u202f234,5"),
        ("pl", "1\u202f234,5"),
    ],
)
def test_groups_are_parted_by_a_narrow_space_in_every_language(language, text):
    # SI Brochure 5.4.4: never dot or comma between groups (quoted in a bug report, READ).
    assert figures_for(language).grams(1234.5) == text


@pytest.mark.parametrize(
    ("mass_g", "step_g", "text"),
    [
        (0.04, 0.1, "0.0"),
        (-0.04, 0.1, "0.0"),  # no minus before nothing
        (-6.0, 0.1, f"{MINUS}6.0"),
        (999.96, 0.1, f"1{NARROW_SPACE}000.0"),
        (1234567.0, 1.0, f"1{NARROW_SPACE}234{NARROW_SPACE}567"),
        (12.34, 0.05, "12.35"),
        (12.36, 0.5, "12.5"),
        (12.4, 2.0, "12"),
        (0.1234, 0.01, "0.12"),
    ],
)
def test_a_weight_shows_what_the_scale_can_show(mass_g, step_g, text):
    assert Figures(".", step_g).grams(mass_g) == text


@given(st.floats(-99999, 99999), st.sampled_from([0.01, 0.05, 0.1, 0.5, 1.0]))
def test_a_written_weight_reads_back_within_half_a_step(mass_g, step_g):
    text = Figures(",", step_g).grams(mass_g)
    plain = text.replace(NARROW_SPACE, "").replace(MINUS, "-").replace(",", ".")
    assert float(plain) == pytest.approx(mass_g, abs=step_g / 2 + 1e-6)


@pytest.mark.parametrize(
    ("typed", "value"),
    [  # the reference table's rows H064 to H068 (RUN): what a stock number field gets wrong
        ("12.5", 12.5),
        ("12,5", 12.5),
        ("1.234", 1.234),
        ("1,234", 1.234),
        (" 350 ", 350.0),
        ("1.234,5", None),
        ("1 234", None),
        ("1\u202f234", None),
        ("", None),
        (",", None),
        ("-5", None),
        ("1e3", None),
        ("٣٥٠", None),
        ("½", None),
    ],
)
def test_comma_and_point_are_both_the_decimal_mark_and_grouping_is_refused(typed, value):
    assert typed_number(typed) == value


class TestCalmFigure:
    def test_small_moves_do_not_show(self):
        figure = CalmFigure(0.1)
        assert figure.show(12.4, "moving", 0.0) == 12.4
        assert figure.show(12.45, "moving", 5.0) == 12.4

    def test_a_move_shows_no_more_than_three_times_a_second(self):
        figure = CalmFigure(0.1)
        shown = {figure.show(100 - 0.2 * at, "moving", at * 0.02) for at in range(100)}  # 2 s
        assert 5 <= len(shown) <= 7

    def test_a_change_of_state_shows_at_once(self):
        figure = CalmFigure(0.1)
        figure.show(1.0, "moving", 0.0)
        assert figure.show(0.98, "in", 0.01) == 0.98

    def test_it_settles_on_the_value_once_it_moved_enough(self):
        figure = CalmFigure(0.1)
        figure.show(1.0, "moving", 0.0)
        assert figure.show(0.9, "moving", 0.1) == 1.0
        assert figure.show(0.9, "moving", 0.34) == 0.9
