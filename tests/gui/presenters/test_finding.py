"""Find my scale, step by step, without a window."""

from __future__ import annotations

from datetime import date

import pytest

from mixbench.errors import SettingsError
from mixbench.gui.presenters.figures import Figures
from mixbench.gui.presenters.finding import FindPresenter
from mixbench.gui.presenters.finding_plate import Plate
from mixbench.gui.presenters.finding_state import FindAction, FindPageState
from mixbench.gui.presenters.start_state import MOST_TARGETS
from mixbench.scales.finding import SearchEnded, Step, Trying
from mixbench.scales.shape import SerialSettings
from mixbench.settings import Settings
from tests.helpers.find_scenes import (
    BLANK_MARK,
    CABLE,
    FIND_SCENES,
    FOUND,
    MARKED,
    TODAY,
    USED,
    StandInRoom,
    ended,
    hear,
    press,
    question,
    scale_says,
    type_,
)


class View:
    def render_state(self, state: FindPageState) -> None:
        self.state = state


class Case:
    """A presenter, what it shows and whom it asks."""

    def __init__(self, *moves, room: StandInRoom | None = None, language: str = "en") -> None:
        self.view = View()
        self.room = room or StandInRoom()
        self.page = FindPresenter(self.view, self.room, language=language, today=lambda: TODAY)
        self.page.open()
        self.go(*moves)

    def go(self, *moves) -> Case:
        for move in moves:
            move(self.page)
        return self

    @property
    def state(self) -> FindPageState:
        return self.view.state

    @property
    def offers(self) -> list[FindAction]:
        return [one.action for one in (*self.state.tiles, *self.state.targets)]


@pytest.mark.parametrize("name", FIND_SCENES)
def test_no_look_has_more_than_five_targets_and_each_has_a_title(name) -> None:
    state = Case(*FIND_SCENES[name]).state
    assert len(state.tiles) + len(state.targets) <= MOST_TARGETS
    assert state.title


class TestPorts:
    def test_ports_stand_by_their_usb_names_with_the_way_to_type_one(self):
        tiles = Case().state.tiles
        assert [(one.label, one.detail) for one in tiles[:2]] == [
            ("USB serial cable", "/dev/ttyUSB0"),
            ("Label printer", "/dev/ttyACM0"),
        ]
        assert tiles[2].label == "Type an address"

    def test_more_ports_come_round_again(self):
        case = Case(press(FindAction.MORE))
        assert [one.detail for one in case.state.tiles[:1]] == ["/dev/ttyS0"]
        assert FindAction.LOOK_AGAIN in case.offers

    def test_a_port_plugged_in_meanwhile_is_seen_on_looking_again(self):
        case = Case(room=StandInRoom(()))
        assert "No port is listed" in case.state.says
        case.room.listed = (CABLE,)
        assert case.go(press(FindAction.LOOK_AGAIN)).state.tiles[0].label == "USB serial cable"

    def test_a_picked_port_is_searched(self):
        assert Case(press(FindAction.TILE_1)).room.searched == ["/dev/ttyACM0"]

    def test_an_address_can_be_typed_and_mended(self):
        case = Case(
            press(FindAction.TILE_2),
            type_("socket://h:44"),
            press(FindAction.RUB_OUT, FindAction.TRY),
        )
        assert case.room.searched == ["socket://h:4"]

    def test_nothing_typed_cannot_be_tried(self):
        targets = Case(press(FindAction.TILE_2)).state.targets
        assert [one.enabled for one in targets if one.action is FindAction.TRY] == [False]


class TestSearch:
    def test_bytes_stand_on_the_page_as_they_come(self):
        case = Case(*FIND_SCENES["listening"])
        assert case.state.raw[0].startswith("\\xf8\\x00\\x98")
        assert case.state.says == "Listening at 2400 8N1 …"

    def test_asking_is_said(self):
        assert Case(*FIND_SCENES["asking"]).state.says == "Asking at 9600 8N1 …"

    def test_stop_goes_back_to_the_ports_and_late_words_are_not_heard(self):
        case = Case(press(FindAction.TILE_0), press(FindAction.STOP), hear(ended(MARKED)))
        assert case.state.title == "Where is the scale?"
        assert case.room.listened == []

    @pytest.mark.parametrize("name", ["silent", "unknown", "noise", "refused"])
    def test_no_scale_is_said_with_what_to_do_and_can_be_tried_again(self, name):
        case = Case(*FIND_SCENES[name])
        assert (case.state.title, case.state.refused) == ("No scale found here", True)
        assert case.state.says
        case.go(press(FindAction.LOOK_AGAIN))
        assert case.room.searched == [CABLE.url] * 2


class TestFound:
    def test_the_scale_is_read_at_once_with_its_raw_line_beside_the_weight(self):
        case = Case(*FOUND, scale_says(b"US,GS,+   99.9  g"))
        assert len(case.room.listened) == 1
        assert case.state.reading == "99.9\N{NO-BREAK SPACE}g, moving"
        assert case.state.raw[-1] == "US,GS,+   99.9  g"

    def test_a_line_that_is_not_read_is_shown_and_counted(self):
        state = Case(*FIND_SCENES["found-unread"]).state
        assert "3" in state.says
        assert state.raw[-1] == "NO PAPER"

    def test_several_shapes_can_be_looked_at_in_turn(self):
        case = Case(press(FindAction.TILE_0), hear(ended(BLANK_MARK)))
        names = [case.state.answered.split(" · ")[0]]
        for _again in case.room.listened[0][0].fits[1:]:
            case.go(press(FindAction.ANOTHER))
            names.append(case.state.answered.split(" · ")[0])
        assert names[0] == "bare"
        assert {"nummark", "markfirst"} <= set(names)

    def test_a_doubt_about_the_mark_for_still_is_said_and_can_be_settled(self):
        case = Case(press(FindAction.TILE_0), hear(ended(BLANK_MARK)))
        assert "press on the pan" in case.state.says
        moving = BLANK_MARK + b"       413.9 g ?\r\n"
        case.go(press(FindAction.LOOK_AGAIN), hear(ended(moving)))
        assert case.state.answered.startswith("nummark")
        assert FindAction.LOOK_AGAIN not in case.offers


class TestPlate:
    def test_all_six_questions_end_in_a_saved_scale(self):
        case = Case(
            *USED,
            type_("left bench"), press(FindAction.NEXT),
            type_("3200"), press(FindAction.NEXT),
            type_("0,01"), press(FindAction.NEXT),
            press(FindAction.TILE_0, FindAction.NEXT),
            type_("SN-0417"), press(FindAction.NEXT),
            press(FindAction.TILE_0, FindAction.NEXT),
        )  # fmt: skip
        assert case.state.title == "left bench is saved"
        assert case.room.kept == Settings(
            scale_url=CABLE.url, scale_profile="hdr2", scale_adapter=CABLE.adapter,
            scale_name="left bench", scale_capacity_g=3200.0, scale_step_g=0.01,
            scale_class="II", scale_serial_number="SN-0417", scale_calibration_due="2027-11-25",
        )  # fmt: skip

    def test_a_scale_found_at_other_settings_is_saved_with_them(self):
        end = ended(MARKED, SerialSettings(4800))
        case = Case(press(FindAction.TILE_0), hear(end), press(FindAction.USE))
        case.go(*[press(FindAction.NEXT)] * 6)
        assert case.room.kept.scale_wire == "4800 8N1"

    def test_the_step_of_the_lines_is_proposed(self):
        assert Case(*question(3)).state.entry == "0.1"
        assert Case(*question(3), language="de").state.entry == "0,1"

    @pytest.mark.parametrize(
        ("count", "typed"), [(2, "5"), (2, "much"), (3, "0"), (4, "V"), (6, "31.03.2027")]
    )
    def test_an_answer_that_cannot_be_is_refused_in_its_place(self, count, typed):
        case = Case(*question(count), type_(typed), press(FindAction.NEXT))
        assert case.state.refused
        assert case.state.answered == f"Question {count} of 6"

    def test_back_leads_to_the_question_before_and_then_to_the_scale(self):
        case = Case(*question(2), press(FindAction.BACK))
        assert case.state.answered == "Question 1 of 6"
        assert case.go(press(FindAction.BACK)).state.title == "Does the scale show this?"

    def test_settings_that_cannot_be_written_are_said_and_nothing_is_lost(self):
        case = Case(*question(6))
        case.room.refuses = SettingsError("disk full", remedy="Make room.")
        case.go(press(FindAction.NEXT))
        assert case.state.says == "disk full Make room."
        case.room.refuses = None
        assert case.go(press(FindAction.NEXT)).state.title == "old scale is saved"

    def test_the_29th_of_february_comes_a_day_sooner_next_year(self):
        plate = Plate(Settings(), Figures(), lambda: date(2028, 2, 29))
        while plate.forward():
            pass
        plate.pick(0)
        assert plate.entry == "2029-02-28"

    def test_the_first_letter_replaces_what_stood_there_and_the_next_follow(self):
        assert Case(*question(1), type_("ab"), press(FindAction.RUB_OUT)).state.entry == "a"


class TestWays:
    @pytest.mark.parametrize(
        ("moves", "action", "way"),
        [
            ((), FindAction.OTHER_PAGES, "other pages"),
            ((*question(6), press(FindAction.NEXT)), FindAction.MIX, "mix"),
        ],
    )
    def test_the_ways_out(self, moves, action, way):
        assert Case(*moves, press(action)).room.left == [way]

    def test_the_scale_says_nothing_on_other_steps(self):
        case = Case(scale_says(b"ST,GS,+   1.0  g"))
        assert case.state.reading == ""

    def test_a_search_that_was_never_asked_for_changes_nothing(self):
        case = Case(hear(Trying(Step(SerialSettings())), SearchEnded("x", None)))
        assert case.state.title == "Where is the scale?"
