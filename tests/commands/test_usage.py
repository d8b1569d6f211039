"""The command line as such: help, version, where the data lie, and what is wrong usage."""

from __future__ import annotations

import os
import subprocess
import sys

import pytest

from mixbench import __version__
from mixbench.__main__ import COMMANDS, main
from mixbench.commands.language import speak
from mixbench.i18n import _, use_language
from mixbench.settings import Settings
from tests.helpers.bench_process import RECIPE
from tests.helpers.command import recipe
from tests.helpers.journal import small_journal

POT = ("targets", recipe("clear"), "--make", "600 ml")


def mixbench(*words, **environ):
    """Run the real command."""
    return subprocess.run(
        [sys.executable, "-m", "mixbench", *map(str, words)],
        capture_output=True,
        text=True,
        timeout=60,
        env={**os.environ, **environ},
    )


def usage(capsys, *words):
    """Return the exit code and the output of words that end in the parser."""
    with pytest.raises(SystemExit) as ended:
        main(words)
    said = capsys.readouterr()
    return ended.value.code, said.out, said.err


def test_help_names_every_command_and_the_exit_codes(capsys) -> None:
    code, out, err = usage(capsys, "--help")
    assert (code, err) == (0, "")
    for name, meaning in {**COMMANDS, "demo": "the demo shop with a practice scale"}.items():
        assert name in out
        assert meaning.split(";")[0].split(",")[0] in " ".join(out.split())
    assert "Exit codes: 0 done, 1 refused or not intact, 2 usage." in out


@pytest.mark.parametrize("name", [*COMMANDS, "demo"])
def test_every_command_has_help_of_its_own(capsys, name) -> None:
    code, out, err = usage(capsys, name, "--help")
    assert (code, err) == (0, "")
    assert out.startswith(f"usage: mixbench {name}")
    assert "--json" in out


def test_version(capsys) -> None:
    assert usage(capsys, "--version") == (0, f"mixbench {__version__}\n", "")


@pytest.mark.parametrize(
    "words",
    [
        ("paint",),
        ("targets",),
        POT[:2],
        (*POT, "--colour", "red"),
        ("readings", "--port", "x"),
        ("readings", "--port", "x", "--profile", "hdr2", "--count", "none"),
        ("pour", recipe("clear"), "--make", "1 l"),
        (
            "pour",
            *POT[1:],
            "--port",
            "x",
            "--profile",
            "hdr2",
            "--cup",
            "1 l",
            "--on-overpour",
            "x",
        ),
        ("practice-scale", "--pty", "--tcp", "127.0.0.1:0"),
        ("verify", "--anchor"),
        ("verify", "a.db", "b.db"),
        ("--data",),
    ],
    ids=" ".join,
)
def test_wrong_usage_ends_with_2_and_says_how_it_goes(capsys, words) -> None:
    code, out, err = usage(capsys, *words)
    assert (code, out) == (2, "")
    assert err.startswith("usage: mixbench")
    assert "error: " in err


def test_the_data_folder_is_named_before_or_after_the_command(tmp_path) -> None:
    small_journal(tmp_path / "journal.db")
    before = mixbench("--data", tmp_path, "verify")
    after = mixbench("verify", "--data", tmp_path)
    assert before.stdout.startswith(f"{tmp_path / 'journal.db'}: 5 entries")
    assert (after.returncode, after.stdout) == (0, before.stdout)


def test_without_a_name_it_is_the_platforms_own(tmp_path) -> None:
    if sys.platform != "linux":
        pytest.skip("the variable is of the XDG base directory specification")
    ended = mixbench("verify", XDG_DATA_HOME=str(tmp_path))
    assert str(tmp_path / "mixbench" / "journal.db") in ended.stderr
    assert list(tmp_path.iterdir()) == []  # asking makes nothing


class TestLanguage:
    @pytest.fixture
    def pot(self, tmp_path):
        """Return what the command says of a pot with a language set on the computer."""
        (tmp_path / "recipe.toml").write_text(RECIPE)

        def said(language: str) -> str:
            words = ("targets", tmp_path / "recipe.toml", "--make", "600 g", "--data", tmp_path)
            return mixbench(*words, LC_ALL=language).stdout

        return said

    def test_of_the_computer(self, pot) -> None:
        said = pot("de_DE.UTF-8")
        assert "bei 20 °C" in said
        assert "Soll" in said
        assert "375,0" in said
        assert "." not in said

    def test_of_the_settings_before_that_of_the_computer(self, pot, tmp_path) -> None:
        (tmp_path / "settings.json").write_text('{"language": "en"}')
        assert "at 20 °C" in pot("de_DE.UTF-8")

    @pytest.mark.parametrize("language", ["fi_FI.UTF-8", "C", ""])
    def test_a_language_nobody_translated_is_english(self, pot, language) -> None:
        assert "at 20 °C" in pot(language)

    def test_every_language_of_the_settings_can_be_spoken(self) -> None:
        try:
            for language in ("en", "de"):
                assert speak(Settings(language=language)) == language
            assert _("Pot") == "Ansatz"
        finally:
            use_language("en", None)


def test_ctrl_c_ends_a_command_without_a_word(tmp_path) -> None:
    program = (
        "import sys; from mixbench.commands import verify; import signal, os\n"
        "verify.verify = lambda *_: os.kill(os.getpid(), signal.SIGINT) or signal.pause()\n"
        "from mixbench.__main__ import main; sys.exit(main(['verify', '--data', sys.argv[1]]))"
    )
    if sys.platform == "win32":
        pytest.skip("no such signal")
    ended = subprocess.run(
        [sys.executable, "-c", program, str(tmp_path)], capture_output=True, text=True, timeout=60
    )
    assert (ended.returncode, ended.stdout, ended.stderr) == (1, "", "")
