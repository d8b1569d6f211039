"""The list of pots and the story of one, as sentences along a seam."""

import pytest

from mixbench.gui.presenters.figures import Figures
from mixbench.gui.presenters.pots import PAGE, PotsAction, PotsPresenter
from mixbench.gui.presenters.pour_state import Action
from mixbench.gui.presenters.seam import Stitch, seam
from mixbench.pouring import facts as kinds
from tests.helpers import pour_scenes as scenes
from tests.helpers.page_scenes import ROWS, StandInPots, pot_row
from tests.helpers.pour_bench import RecordingView

SPACE = "\u00a0"


def presenter(rows=ROWS, **named):
    view = RecordingView()
    checked = []
    made = PotsPresenter(
        StandInPots(rows),
        view,
        check=lambda: checked.append(True),
        other_pages=lambda: checked.append("other"),
        **named,
    )
    made.open()
    return made, view, checked


class TestList:
    def test_the_latest_pot_is_picked(self):
        _made, view, _checked = presenter()
        assert view.states[-1].picked == 0
        assert view.states[-1].story == "Pot 7 · Clear fast · bonnet, roof"

    def test_a_pot_asked_for_is_picked(self):
        made, view, _checked = presenter()
        made.open("B1-5")
        assert view.states[-1].story.startswith("Pot 5")

    @pytest.mark.parametrize(
        ("row", "outcome"),
        [
            (pot_row(1, overpours=0), f"329.6{SPACE}g"),
            (pot_row(1, overpours=1), f"329.6{SPACE}g, 1 rescue"),
            (pot_row(1, overpours=2), f"329.6{SPACE}g, 2 rescues"),
            (pot_row(1, state="open"), "half poured"),
            (pot_row(1, state="abandoned"), "thrown away"),
            (pot_row(1, verdict="deviation accepted"), f"329.6{SPACE}g, taken as it is"),
        ],
    )
    def test_each_pot_says_what_became_of_it(self, row, outcome):
        _made, view, _checked = presenter((row,))
        assert view.states[-1].items[0].outcome == outcome

    def test_an_empty_record_says_so(self):
        _made, view, _checked = presenter(())
        assert view.states[-1].says == "No pot has been poured yet."
        assert view.states[-1].picked == -1

    def test_earlier_pots_are_a_page_away(self):
        rows = tuple(pot_row(number, first_seq=number) for number in range(PAGE, 0, -1))
        made, view, _checked = presenter(rows)
        assert PotsAction.EARLIER in {one.action for one in view.states[-1].targets}
        made.act(PotsAction.EARLIER)
        assert PotsAction.LATEST in {one.action for one in view.states[-1].targets}


class TestRecord:
    def test_checking_is_asked_for_and_answered_in_words(self):
        made, view, checked = presenter()
        made.act(PotsAction.CHECK)
        assert checked == [True]
        assert view.states[-1].verdict == "Checking the record …"
        made.verified("41 entries, unbroken.", intact=True)
        assert (view.states[-1].verdict, view.states[-1].broken) == ("41 entries, unbroken.", False)

    def test_a_broken_record_is_marked(self):
        made, view, _checked = presenter()
        made.verified("NOT intact", intact=False)
        assert view.states[-1].broken


def story(scene):
    return seam(scene.journal.entries(), Figures(","))


class TestSeam:
    def test_a_rescued_pour_reads_as_it_happened(self):
        lines = story(scenes.topping_up().scan("B-77").pour(12.0))
        said = [f"{line.sentence} {line.word}".strip() for line in lines]
        assert said[0].startswith("ana started pot 3: Test surfacer, version 1, 256")
        assert f"ana poured Base white 200,0{SPACE}g (200,0) lot B-77 IN" in said
        assert f"ana poured Hardener medium 106,0{SPACE}g (100,0) lot 7K-0412 OVER" in said
        assert "ana took the new plan ×1,060" in said

    def test_the_seam_turns_with_the_plan_and_ends_with_the_pot(self):
        lines = story(scenes.done())
        assert lines[0].stitch is Stitch.BRANCH
        assert lines[-1].stitch is Stitch.END
        assert lines[-1].sentence == f"ana finished the pot, 320,0{SPACE}g"

    def test_a_deviation_names_who_took_it_and_why(self):
        lines = story(scenes.lead_reason().scan("panel agreed"))
        assert any("Lee took Base white" in line.sentence for line in lines)
        assert any("panel agreed" in line.sentence for line in lines)

    def test_every_kind_of_entry_has_a_sentence(self):
        told = set()
        for scene in scenes.SCENES.values():
            bench = scene()
            told |= {entry.kind for entry in bench.journal.entries()}
            for line in story(bench):
                assert not line.sentence.startswith("ana: ")
        # These need one step more than any look does; each has a test of its own here.
        rest = {
            kinds.POT_RESUMED,
            kinds.DEVIATION_ACCEPTED,
            kinds.GROSS_REBASED,
            kinds.COUNTED_AGAIN,
            kinds.DRIP_COUNTED,
        }
        assert set(kinds.POT_KINDS) - told == rest

    def test_paint_counted_again_and_late_drops_are_told(self):
        over = scenes.overpoured()
        over.load_g -= 6.0  # what lay on the pot is taken off
        over.wait().press(Action.COUNT_AS_SHOWN)
        dripped = scenes.scan_hardener()
        dripped.load_g += 0.4
        dripped.wait()

        assert f"ana counted Base white again: 200,0{SPACE}g, not 206,0" in [
            line.sentence for line in story(over)
        ]
        assert f"Base white dripped to 200,4{SPACE}g" in [line.sentence for line in story(dripped)]

    def test_going_on_after_a_restart_is_told(self):
        bench = scenes.pouring_hardener().stream(40.0)
        load_g = bench.load_g
        bench.restart(scenes.SCANNING)
        bench.load_g = load_g
        assert any("after a restart" in line.sentence for line in story(bench.wait()))

    def test_a_kind_from_a_newer_program_is_named_rather_than_hidden(self):
        class Strange:
            kind, by, at, body = "pot-blessed", "ana", 0, {}

        assert seam([Strange()], Figures())[0].sentence == "ana: pot-blessed"

    def test_a_rebased_gross_says_by_how_much(self):
        lines = story(scenes.cup_off().press(Action.POT_IS_ON))
        assert any("scale moved by −" in line.sentence for line in lines)
