"""What a reading thread posts arrives in the window's thread, in order."""

import threading

from mixbench.gui.bridge import Bridge


def test_events_arrive_in_the_windows_thread_in_order(qtbot):
    arrived = []
    bridge = Bridge(
        lambda event: arrived.append((event, threading.current_thread())), lambda now_s: None
    )
    worker = threading.Thread(target=lambda: [bridge.post(count) for count in range(100)])
    worker.start()
    worker.join()
    assert arrived == []  # posted, not delivered: the window's thread has not turned to it yet
    qtbot.waitUntil(lambda: len(arrived) == 100)
    assert [event for event, _thread in arrived] == list(range(100))
    assert {thread for _event, thread in arrived} == {threading.main_thread()}


def test_it_ticks_until_it_is_stopped(qtbot):
    ticks = []
    bridge = Bridge(lambda event: None, ticks.append)
    bridge.start()
    qtbot.waitUntil(lambda: len(ticks) >= 3)
    bridge.stop()
    assert ticks == sorted(ticks)
    count = len(ticks)
    qtbot.wait(120)
    assert len(ticks) == count
