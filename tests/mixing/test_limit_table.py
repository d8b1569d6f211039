"""Rules read from their texts, and the rules that come with the program."""

from __future__ import annotations

from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from mixbench.errors import TableError
from mixbench.mixing.limit_table import parse_limits
from mixbench.mixing.limits import BASES
from mixbench.resource import resource_path

SHIPPED = sorted(resource_path("limits").glob("*.toml"))

RULE = """
[rule]
code = "r"
name = "Some rule"
jurisdiction = "nowhere"
date = "2007-01-01"
basis = "less water"
exempt = false
read = "memory"
mark = "MEMORY"
source = "an example"
"""
TOPCOAT = """
[[limit]]
category = "d"
name = "topcoat"
limit = "420 g/l"
"""


def problems(text: str) -> str:
    """Return what is said about a text that cannot be used."""
    with pytest.raises(TableError) as refused:
        parse_limits(text, "rule.toml")
    return str(refused.value)


def test_a_row_takes_from_the_rule_what_it_does_not_say() -> None:
    rule = parse_limits(RULE + TOPCOAT + 'basis = "actual"\nmark = "READ"', "rule.toml")
    (limit,) = rule.limits
    assert (limit.basis, limit.mark, limit.date) == ("actual", "READ", "2007-01-01")
    assert limit.rule == "Some rule"


def test_every_problem_is_listed_at_once() -> None:
    text = RULE.replace("2007-01-01", "1 January 2007").replace("false", '"no"')
    said = problems(text + TOPCOAT.replace("420 g/l", "420"))
    assert "rule.toml: 3 problems" in said
    assert "limit is '420'. Write it such as \"420 g/l\"." in said
    assert "date is '1 January 2007'" in said
    assert "exempt is 'no'. Write true or false." in said


@pytest.mark.parametrize(
    ("old", "new", "said"),
    [
        ('basis = "less water"', 'basis = "dry"', "Write one of: actual, less water"),
        ('read = "memory"', 'read = "somewhere"', "Write one of: original"),
        ('source = "an example"', "", "source is missing"),
        ('source = "an example"', 'source = ""', "source is missing"),
        ('source = "an example"', "source = 7", "source is 7. Write it in quotation marks."),
        ('name = "Some rule"', "", "name is missing"),
        ('code = "r"', 'code = "r"\ncolour = "red"', "colour is not known here"),
        ("exempt = false", "", "exempt is None"),
        ("exempt = false", "exempt = false\ng_l_per_lb_gal = 8.33", "between 119.0 and 121.0"),
        ("exempt = false", "exempt = false\ng_l_per_lb_gal = true", "g_l_per_lb_gal is True"),
    ],
)
def test_a_wrong_rule_says_what_to_write(old: str, new: str, said: str) -> None:
    assert said in problems(RULE.replace(old, new) + TOPCOAT)


@pytest.mark.parametrize("limit", ["420 kg/l", "-420 g/l", "nan g/l", "420g/l", "4.2.0 g/l", ""])
def test_a_limit_must_be_a_number_with_the_rules_unit(limit: str) -> None:
    assert "Write it such as" in problems(RULE + TOPCOAT.replace("420 g/l", limit))


def test_a_category_stands_once() -> None:
    assert "Category d stands twice." in problems(RULE + TOPCOAT + TOPCOAT)


@pytest.mark.parametrize(
    "text",
    ["", RULE, TOPCOAT, "limit = 3\nrule = 4", RULE + "limit = [1]", "[rule", "a = " + "[" * 999],
)
def test_a_text_that_is_no_rule_is_refused(text: str) -> None:
    assert "rule.toml" in problems(text)


@given(st.text(max_size=80))
def test_any_text_is_a_rule_or_refused(text: str) -> None:
    try:
        parse_limits(text, "rule.toml")
    except TableError:
        return
    pytest.fail("a rule of 80 letters cannot be complete")


@pytest.mark.parametrize("file", SHIPPED, ids=lambda file: file.stem)
def test_every_shipped_rule_is_sound(file: Path) -> None:
    rule = parse_limits(file.read_text("utf-8"), file.name)
    assert rule.limits
    for limit in rule.limits:
        assert 0.0 < limit.value < 1000.0
        assert limit.basis in BASES
        assert limit.exempt or limit.basis != "less water and exempt"
        if limit.mark == "MEMORY":
            assert limit.to_be_confirmed


def test_the_shipped_rules_are_told_apart() -> None:
    codes = [parse_limits(file.read_text("utf-8"), file.name).code for file in SHIPPED]
    assert len(codes) >= 7
    assert len(set(codes)) == len(codes)


def test_only_what_was_read_in_the_law_is_confirmed() -> None:
    confirmed = {
        file.stem
        for file in SHIPPED
        for limit in parse_limits(file.read_text("utf-8"), file.name).limits
        if not limit.to_be_confirmed
    }
    assert confirmed == {"de_chemvocfarbv", "ca_qc_clean_air_38"}
