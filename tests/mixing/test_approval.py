"""One pot for several panels: which mix may go on which substrate."""

from __future__ import annotations

import itertools

import pytest
from hypothesis import given
from hypothesis import strategies as st

from mixbench.errors import ChoiceError
from mixbench.mixing.approval import Approval, approvals, fewest_pots
from mixbench.mixing.model import Recipe
from tests.helpers.recipes import SOUND, sound

WHITE = {"shade": "white"}
SUBSTRATES = ("bare plastic", "primed plastic", "bare steel")


def approved(**also: list[str]) -> Recipe:
    """Return the recipe with approvals, such as ``bare_plastic=["bare steel"]``."""
    rows = "\n".join(f'"{name.replace("_", " ")}" = {others}' for name, others in also.items())
    return sound((SOUND, f"{SOUND}\n[approved]\n{rows}\n".replace("'", '"')))


def test_the_same_components_serve_each_other_without_a_word() -> None:
    assert approvals(sound(), WHITE) == (
        Approval("bare plastic", ("bare plastic",)),
        Approval("primed plastic", ("primed plastic", "bare steel")),
        Approval("bare steel", ("primed plastic", "bare steel")),
    )


def test_the_sheet_may_approve_more() -> None:
    table = approvals(approved(bare_plastic=["bare steel"]), WHITE)
    assert table[0].serves == ("bare plastic", "bare steel")
    assert table[2].serves == ("primed plastic", "bare steel")


def test_a_bumper_and_a_bonnet_share_one_pot_where_the_sheet_allows_it() -> None:
    panels = ["bare steel", "bare plastic"]
    assert fewest_pots(approved(bare_plastic=["bare steel"]), WHITE, panels) == (
        Approval("bare plastic", ("bare plastic", "bare steel")),
    )
    assert fewest_pots(sound(), WHITE, panels) == (
        Approval("bare plastic", ("bare plastic",)),
        Approval("primed plastic", ("bare steel",)),
    )


@given(
    st.dictionaries(st.sampled_from(SUBSTRATES), st.sets(st.sampled_from(SUBSTRATES)), max_size=3),
    st.lists(st.sampled_from(SUBSTRATES), min_size=1, max_size=5),
)
def test_no_smaller_set_of_pots_would_do(also: dict[str, set[str]], wanted: list[str]) -> None:
    others = {name: sorted(few - {name}) for name, few in also.items() if few - {name}}
    recipe = approved(**others) if others else sound()
    pots = fewest_pots(recipe, WHITE, wanted)
    served = [one for pot in pots for one in pot.serves]
    assert sorted(served) == sorted(set(wanted))
    table = {each.made_for: each.serves for each in approvals(recipe, WHITE)}
    assert all(set(pot.serves) <= set(table[pot.made_for]) for pot in pots)
    for fewer in itertools.combinations(table.values(), len(pots) - 1):
        assert not set(wanted) <= set().union(*fewer)


def test_a_part_of_a_name_is_enough() -> None:
    assert fewest_pots(sound(), WHITE, ["steel"])[0].serves == ("bare steel",)


@pytest.mark.parametrize(
    ("wanted", "said"),
    [([], "0 substrates are named"), (["plastic"], "may mean"), (["wood"], "is not offered")],
)
def test_what_cannot_be_served_is_refused(wanted: list[str], said: str) -> None:
    with pytest.raises(ChoiceError, match=said):
        fewest_pots(sound(), WHITE, wanted)


def test_more_substrates_than_any_job_has_are_refused() -> None:
    many = [f"part {number:02}" for number in range(13)]
    listed = ", ".join(f'"{one}"' for one in many)
    recipe = sound(
        ('substrate = ["bare plastic", ', f'substrate = [{listed}, "bare plastic", '),
        ('["primed plastic", "bare steel"] }', f'[{listed}, "primed plastic", "bare steel"] }}'),
    )
    with pytest.raises(ChoiceError, match="13 substrates are named"):
        fewest_pots(recipe, WHITE, many)


def test_a_recipe_that_asks_for_no_substrate_has_no_table() -> None:
    axis = 'surface = ["bare plastic", "primed plastic", "bare steel"]'
    recipe = sound(
        ('substrate = ["bare plastic", "primed plastic", "bare steel"]', axis),
        ("{ substrate = ", "{ surface = "),
        ("{ substrate = ", "{ surface = "),
    )
    with pytest.raises(ChoiceError, match="does not ask for a substrate"):
        approvals(recipe, WHITE)
    with pytest.raises(ChoiceError):
        fewest_pots(recipe, {**WHITE, "surface": "bare steel"}, ["bare steel"])
