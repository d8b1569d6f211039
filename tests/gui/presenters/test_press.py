"""Bounces and codes."""

from mixbench.gui.presenters.press import PressGuard, TypedCode


class TestPressGuard:
    def test_a_second_press_within_300_ms_is_ignored(self):
        now = [10.0]
        guard = PressGuard(lambda: now[0])
        assert guard.lets_through()
        now[0] = 10.29
        assert not guard.lets_through()
        now[0] = 10.31
        assert guard.lets_through()

    def test_an_ignored_press_does_not_hold_off_the_next(self):
        now = [0.0]
        guard = PressGuard(lambda: now[0])
        passed = []
        for at in range(10):
            now[0] = at * 0.2
            passed.append(guard.lets_through())
        assert passed == [True, False] * 5


class TestTypedCode:
    def test_a_code_ends_with_enter_and_begins_anew(self):
        code = TypedCode()
        for letter in " 7K-0412":
            code.add(letter)
        assert code.finish() == "7K-0412"
        assert code.finish() == ""

    def test_a_lone_u_is_undo_and_a_code_that_begins_with_u_is_not(self):
        code = TypedCode()
        code.add("U")
        assert code.is_lone_undo()
        code.add("7")
        assert not code.is_lone_undo()

    def test_rubbing_out_an_empty_code_is_harmless(self):
        code = TypedCode()
        code.rub_out()
        assert code.text == ""
