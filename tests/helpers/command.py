"""A command run in this process: what it printed, and the number it ended with."""

from __future__ import annotations

import json
from dataclasses import dataclass

import pytest

from mixbench import __main__ as program
from mixbench.resource import demo_shop_path

SHOP = demo_shop_path()


@dataclass(frozen=True)
class Ended:
    """What a command printed and its exit code."""

    code: int
    out: str
    err: str

    @property
    def fact(self) -> dict:
        """The one JSON object it printed."""
        (line,) = self.out.splitlines()
        return json.loads(line)


class Command:
    """Runs commands in a data folder; the demo shop's unless another is named."""

    def __init__(self, capsys: pytest.CaptureFixture[str], folder: object = SHOP) -> None:
        self._capsys = capsys
        self._folder = str(folder)

    def __call__(self, *words: object) -> Ended:
        """Run ``mixbench WORDS``, its words in English and without a log."""
        line = [*map(str, words), "--data", self._folder]
        args = program._parser(line).parse_args(line)
        code = program._module("commands", args.command).run(args)
        said = self._capsys.readouterr()
        return Ended(code, said.out, said.err)

    def fact(self, *words: object) -> dict:
        """Return what a command says to a script."""
        ended = self(*words, "--json")
        assert ended.err == ""
        return ended.fact


def recipe(name: str) -> str:
    """Return the path of a recipe of the demo shop."""
    return str(SHOP / "recipes" / f"{name}.toml")
