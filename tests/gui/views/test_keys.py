"""Keys known by their numbers are the keys Qt means."""

from PySide6.QtCore import Qt

from mixbench.gui.presenters.places import Place
from mixbench.gui.views.keys import ENTER_KEY, RETURN_KEY
from mixbench.gui.views.window import _PLACES


def test_return_and_enter():
    assert (Qt.Key.Key_Return, Qt.Key.Key_Enter) == (RETURN_KEY, ENTER_KEY)


def test_digits_of_the_pages():
    assert {Qt.Key.Key_1: Place.START, Qt.Key.Key_2: Place.POTS} == _PLACES
