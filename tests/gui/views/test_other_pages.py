"""Start, pots and other pages, by state and by press."""

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QLabel, QListView, QWidget

from mixbench.gui.models.rows import ROW_ROLE, RowsModel
from mixbench.gui.presenters.places import Place
from mixbench.gui.presenters.pots import PotsAction
from mixbench.gui.presenters.start_state import StartAction
from mixbench.gui.views.targets import TargetButton
from mixbench.gui.views.window import MainWindow
from mixbench.gui.views.words import FittedWords
from tests.helpers.page_scenes import PAGES
from tests.helpers.qt import settle

SIZES = [(1280, 800), (1920, 1080)]


@pytest.fixture
def window(qtbot):
    window = MainWindow()
    qtbot.addWidget(window)
    window.show()
    qtbot.waitExposed(window)
    return window


def show(window, name):
    PAGES[name](window, "en")
    settle()
    return window.pages.currentWidget()


@pytest.mark.parametrize("name", PAGES)
@pytest.mark.parametrize(("width", "height"), SIZES)
def test_everything_lies_inside_the_page(window, name, width, height):
    window.resize(width, height)
    page = show(window, name)
    assert window.size().toTuple() == (width, height)
    for widget in page.findChildren(QWidget):
        if widget.isVisible() and isinstance(widget, QLabel | TargetButton | QListView):
            box = widget.rect().translated(widget.mapTo(page, widget.rect().topLeft()))
            assert page.rect().contains(box), widget.objectName()


@pytest.mark.parametrize("name", PAGES)
def test_no_text_is_cut(window, name):
    page = show(window, name)
    for label in page.findChildren(FittedWords):
        if label.isVisible() and label.text():
            font, text = label._fitted()
            assert text == label.text(), label.objectName()
            assert font.pixelSize() >= 20, (label.objectName(), text)


class TestStartPage:
    def test_a_tile_is_an_answer(self, window, qtbot):
        page = show(window, "start-recipes")
        tile = page.findChild(TargetButton, StartAction.TILE_1.value)
        with qtbot.waitSignal(page.acted) as signal:
            qtbot.mouseClick(tile, Qt.MouseButton.LeftButton)
        assert signal.args == [StartAction.TILE_1]

    def test_the_keypad_types_and_so_does_a_keyboard(self, window, qtbot):
        page = show(window, "start-keypad")
        typed = []
        page.typed.connect(typed.append)
        qtbot.mouseClick(page.findChild(TargetButton, "key_7"), Qt.MouseButton.LeftButton)
        qtbot.keyClick(page, Qt.Key.Key_8)
        qtbot.keyClick(page, Qt.Key.Key_Comma)
        assert typed == ["7", "8", ","]

    def test_enter_finishes_the_amount_and_escape_goes_back(self, window, qtbot):
        page = show(window, "start-keypad")
        page._guard._now_s = iter(range(0, 100, 10)).__next__
        acted = []
        page.acted.connect(acted.append)
        qtbot.keyClick(page, Qt.Key.Key_Return)
        qtbot.keyClick(page, Qt.Key.Key_Escape)
        qtbot.keyClick(page, Qt.Key.Key_Backspace)
        assert acted == [StartAction.DONE, StartAction.BACK, StartAction.RUB_OUT]

    def test_a_scanned_job_is_said(self, window, qtbot):
        page = show(window, "start-summary")
        qtbot.keyClicks(page, "RO-17")
        with qtbot.waitSignal(page.said) as signal:
            qtbot.keyClick(page, Qt.Key.Key_Return)
        assert signal.args == ["RO-17"]

    def test_enter_pours_when_nothing_was_typed(self, window, qtbot):
        page = show(window, "start-summary")
        with qtbot.waitSignal(page.acted) as signal:
            qtbot.keyClick(page, Qt.Key.Key_Return)
        assert signal.args == [StartAction.POUR]


class TestPotsPage:
    def test_another_pot_can_be_picked(self, window, qtbot):
        page = show(window, "pots")
        with qtbot.waitSignal(page.picked) as signal:
            qtbot.keyClick(page.pots, Qt.Key.Key_Down)
        assert signal.args == [1]

    def test_the_record_can_be_checked(self, window, qtbot):
        page = show(window, "pots")
        check = page.findChild(TargetButton, PotsAction.CHECK.value)
        with qtbot.waitSignal(page.acted) as signal:
            qtbot.mouseClick(check, Qt.MouseButton.LeftButton)
        assert signal.args == [PotsAction.CHECK]

    def test_an_empty_record_shows_words_instead_of_lists(self, window):
        page = show(window, "pots-none")
        assert not page.pots.isVisible()
        assert page.says.text() == "No pot has been poured yet."

    def test_rows_speak_for_themselves(self, window):
        page = show(window, "pots")
        index = page.pots.model().index(0, 0)
        assert page.pots.model().data(index).startswith("Pot 7 · Clear fast")
        first = page.seam.model().index(0, 0)
        assert "ana started pot" in page.seam.model().data(first)


class TestPlacesPage:
    @pytest.mark.parametrize("place", Place)
    def test_each_tile_goes_somewhere(self, window, qtbot, place):
        about_window = (Place.LOOK, Place.LANGUAGE, Place.FULL_SCREEN, Place.PLACES)
        page = show(window, "places-window" if place in about_window else "places")
        with qtbot.waitSignal(page.went) as signal:
            qtbot.mouseClick(page.findChild(TargetButton, place.value), Qt.MouseButton.LeftButton)
        assert signal.args == [place]

    def test_escape_goes_back_to_mixing(self, window, qtbot):
        page = show(window, "places")
        with qtbot.waitSignal(page.went) as signal:
            qtbot.keyClick(page, Qt.Key.Key_Escape)
        assert signal.args == [Place.START]


class TestRowsModel:
    def test_it_is_a_sound_model(self, qtmodeltester):
        model = RowsModel(str)
        model.set_rows(("one", "two"))
        qtmodeltester.check(model)

    def test_rows_are_given_as_text_and_as_themselves(self):
        model = RowsModel(lambda row: f"row {row}")
        model.set_rows((1, 2))
        assert model.data(model.index(1)) == "row 2"
        assert model.data(model.index(1), ROW_ROLE) == 2

    def test_the_same_rows_again_change_nothing(self, qtbot):
        model = RowsModel(str)
        model.set_rows(("one",))
        with qtbot.assertNotEmitted(model.modelReset):
            model.set_rows(("one",))
