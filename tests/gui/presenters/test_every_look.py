"""Rules that hold for every look of every page."""

import pytest

from mixbench.gui.presenters.cues import Sound
from mixbench.gui.presenters.marks import Mark
from mixbench.gui.presenters.pour_state import Action, Layout
from mixbench.gui.presenters.target import Rank
from tests.helpers.pour_scenes import SCENES

SHORT_WORD = 12  # letters that fit beside the shape at the size of a verdict


@pytest.fixture(params=SCENES, scope="module")
def bench(request):
    return SCENES[request.param]()


def test_at_most_five_things_can_be_pressed(bench):
    assert len(bench.page.targets) + len(bench.page.choices) <= 5


def test_every_target_has_words_of_its_own(bench):
    labels = [one.label for one in (*bench.page.targets, *bench.page.choices)]
    assert all(labels)
    assert len(set(labels)) == len(labels)


def test_at_most_one_target_is_the_primary_one(bench):
    assert sum(one.rank is Rank.PRIMARY for one in bench.page.targets) <= 1


def test_there_is_always_a_way_on(bench):
    assert any(one.enabled for one in bench.page.targets)


def test_a_shape_never_stands_without_a_word(bench):
    page = bench.page
    if page.mark in (Mark.SOON, Mark.IN, Mark.OVER, Mark.UNSURE):
        assert page.word or page.title
    if page.mark is Mark.ACT:
        assert page.title


def test_verdict_words_are_short(bench):
    assert len(bench.page.word) <= SHORT_WORD


def test_what_destroys_lies_at_the_right_edge_and_is_never_primary(bench):
    for one in bench.page.targets:
        if one.action is Action.DISCARD:
            assert one.right
        if one.action in (Action.DISCARD, Action.DISCARD_SURELY):
            assert one.rank is not Rank.PRIMARY


def test_an_alarm_and_an_overpour_are_announced(bench):
    page = bench.page
    if page.mark is Mark.ACT or (page.mark is Mark.OVER and page.layout is not Layout.NOTICE):
        assert page.announcement


def test_between_the_posts_nothing_pulses(bench):
    bench.presenter.refresh(bench.now_s)
    bench.heard.clear()
    for _count in range(60):
        bench.now_s += 1 / 30
        bench.presenter.refresh(bench.now_s)
        if bench.page.mark is Mark.IN:
            assert Sound.PULSE not in bench.heard
