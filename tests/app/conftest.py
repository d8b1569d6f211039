"""A mixing room for each test, closed whatever the test found."""

import pytest

from tests.helpers.bench_process import quick_scale
from tests.helpers.room import RoomInUse, make_shop


@pytest.fixture
def folder(tmp_path):
    """The data folder of a small shop."""
    return make_shop(tmp_path / "bench")


@pytest.fixture
def room_on(qtbot):
    """Return what opens a window on a data folder."""
    opened = []

    def open_room(folder, scale=None):
        opened.append(RoomInUse(qtbot, folder, scale))
        return opened[-1]

    yield open_room
    for room in opened:
        room.window.close()


@pytest.fixture
def scale():
    """A practice scale that settles five times as fast as a real one."""
    with quick_scale("tcp", seed=3) as scale:
        yield scale


@pytest.fixture
def bench(scale, room_on, tmp_path):
    """A window on a small shop with a practice scale, no pot on it yet."""
    return room_on(make_shop(tmp_path / "bench", scale_url=scale.url), scale)
