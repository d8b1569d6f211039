"""What commands say: lines at once, errors with their three parts, agreed exit codes."""

import json
import subprocess
import sys

import pytest

from mixbench.commands import output
from mixbench.errors import InputError, PortError


def test_a_fact_is_one_line_of_plain_ascii(capsys):
    output.say_json({"text": "12,5 µl\r\n", "mass_g": 12.5})
    written = capsys.readouterr().out
    assert written.isascii()
    assert written.count("\n") == 1
    assert json.loads(written) == {"text": "12,5 µl\r\n", "mass_g": 12.5}


def test_a_number_that_is_none_is_never_written(capsys):
    with pytest.raises(ValueError, match="not JSON compliant"):
        output.say_json({"mass_g": float("nan")})
    assert capsys.readouterr().out == ""


def test_a_refusal_reads_as_text_on_standard_error(capsys):
    error = PortError("Port X is gone.", kept="The pot is kept.", remedy="Check the cable.")
    assert output.refuse(error, as_json=False) == 1
    said = capsys.readouterr()
    assert said.err == "Port X is gone. The pot is kept. Check the cable.\n"
    assert said.out == ""


def test_a_refusal_as_json_keeps_the_three_parts_apart(capsys):
    error = PortError("Port X is gone.", kept="The pot is kept.", remedy="Check the cable.")
    assert output.refuse(error, as_json=True) == 1
    assert json.loads(capsys.readouterr().out) == {
        "error": {
            "what": "Port X is gone.",
            "kept": "The pot is kept.",
            "remedy": "Check the cable.",
        }
    }


def test_only_errors_of_ours_become_refusals(capsys):
    def of_ours() -> int:
        raise InputError("No unit.")

    def a_fault() -> int:
        raise ZeroDivisionError

    assert output.guarded(of_ours, as_json=False) == output.REFUSED
    assert capsys.readouterr().err == "No unit.\n"
    with pytest.raises(ZeroDivisionError):
        output.guarded(a_fault, as_json=False)


def test_a_reader_that_hangs_up_ends_the_command_quietly():
    program = (
        "import itertools\n"
        "from mixbench.commands import output\n"
        "def endless():\n"
        "    for n in itertools.count():\n"
        "        output.say(str(n))\n"
        "raise SystemExit(output.guarded(endless, as_json=False))\n"
    )
    with subprocess.Popen(
        [sys.executable, "-c", program], stdout=subprocess.PIPE, stderr=subprocess.PIPE
    ) as process:
        assert process.stdout.readline() == b"0\n"
        process.stdout.close()
        assert process.wait(timeout=30) == output.DONE
        assert process.stderr.read() == b""
