"""Every public function of the mathematics says what it takes, gives, refuses and rests on.

Walked from the source, so a new function is held to the same: a unit in brackets wherever a number
goes in or comes out, an example or a reference, every parameter named as the signature names it,
and every error by its own name.
"""

from __future__ import annotations

import ast
import re
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

import pytest

import mixbench

PACKAGES = [Path(mixbench.__file__).parent / name for name in ("mixing", "weighing")]
UNITS = {
    *("-", "1", "%", "g", "mg", "kg", "ml", "l", "g/ml", "g/l", "g/mol", "mol/g", "mg/g", "mol/m³"),
    *(
        "m²",
        "m²/l",
        "µm",
        "um",
        "mm",
        "bar",
        "psi",
        "s",
        "min",
        "h",
        "g/s",
        "K",
        "1/K",
        "°C",
        "degC",
    ),
    *("g²", "mm²/s", "mm²/s²", "mm²", "unit", "bytes", "characters"),
}
FILE_READERS = {
    *(
        "recipe_section",
        "recipe_lines",
        "recipe_checks",
        "process_lines",
        "process_checks",
        "tables",
    ),
}
"""Modules that read the tables of a file for others; the example stands where the whole is read."""

IN_BRACKETS = re.compile(r"\[([^\]\n]{1,12})\]")
SUFFIX = re.compile(r"_(g|mg|kg|ml|g_ml|g_l|m2|m2_l|um|mm|mm2_s|bar|psi|s|c|k|per_k|pct|l|g2|g_s)$")


@dataclass(frozen=True)
class Function:
    """A public function, method or property as it stands in the source."""

    place: str
    node: ast.FunctionDef
    is_member: bool

    @property
    def doc(self) -> str:
        return ast.get_docstring(self.node) or ""

    @property
    def parameters(self) -> list[ast.arg]:
        arguments = self.node.args
        every = [*arguments.posonlyargs, *arguments.args, *arguments.kwonlyargs]
        return [each for each in every if each.arg not in ("self", "cls")]

    @property
    def is_property(self) -> bool:
        return any(getattr(each, "id", "") == "property" for each in self.node.decorator_list)

    @property
    def numeric(self) -> bool:
        """Whether a number with a unit goes in or comes out."""
        returned = ast.unparse(self.node.returns) if self.node.returns else ""
        given = [each.arg for each in self.parameters if _is_float(each)]
        return _counts(returned) or any(map(SUFFIX.search, [*given, self.node.name]))

    @property
    def raised(self) -> set[str]:
        """The errors that the function itself raises."""
        calls = (each.exc for each in ast.walk(self.node) if isinstance(each, ast.Raise))
        names = (each.func.id for each in calls if isinstance(each, ast.Call) and _named(each))
        return {name for name in names if name.endswith("Error")}


def _named(call: ast.Call) -> bool:
    return isinstance(call.func, ast.Name)


def _is_float(argument: ast.arg) -> bool:
    return argument.annotation is not None and "float" in ast.unparse(argument.annotation)


def _counts(annotation: str) -> bool:
    return bool(re.search(r"\bfloat\b", annotation))


def functions() -> Iterator[Function]:
    """Yield every public function, method and property of the two packages."""
    for package in PACKAGES:
        for path in sorted(package.glob("*.py")):
            for node in ast.parse(path.read_text("utf-8")).body:
                place = f"{package.name}/{path.stem}"
                if isinstance(node, ast.FunctionDef) and not node.name.startswith("_"):
                    yield Function(f"{place}.{node.name}", node, is_member=False)
                elif isinstance(node, ast.ClassDef) and not node.name.startswith("_"):
                    yield from _members(node, place)


def _members(node: ast.ClassDef, place: str) -> Iterator[Function]:
    if any(getattr(base, "id", "") == "Protocol" for base in node.bases):
        return
    for member in node.body:
        if isinstance(member, ast.FunctionDef) and not member.name.startswith("_"):
            yield Function(f"{place}.{node.name}.{member.name}", member, is_member=True)


ALL = list(functions())
cases = pytest.mark.parametrize("function", ALL, ids=lambda function: function.place)


def sections(doc: str) -> dict[str, str]:
    """Return the numpy sections of a docstring by title; what stands before them under ""."""
    parts = re.split(r"^(\w[\w ]*)\n-{3,}\n", doc, flags=re.MULTILINE)
    return {"": parts[0], **dict(zip(parts[1::2], parts[2::2], strict=True))}


def test_the_walk_finds_the_mathematics() -> None:
    assert len(ALL) > 200
    assert {"mixing/coverage.need", "weighing/honest.pot_trust"} <= {each.place for each in ALL}


@cases
def test_it_says_what_it_returns(function: Function) -> None:
    assert function.doc, "no docstring"
    first = function.doc.splitlines()[0]
    assert first.endswith((".", "]", ";", ",")) or len(first) > 60, first


@cases
def test_numbers_have_their_unit_in_brackets(function: Function) -> None:
    if function.numeric:
        found = set(IN_BRACKETS.findall(function.doc))
        assert found & UNITS, f"no unit in brackets: {function.doc.splitlines()[0]}"


@cases
def test_it_has_an_example_or_a_reference(function: Function) -> None:
    if function.place.partition(".")[0].removeprefix("mixing/") in FILE_READERS:
        return
    if not function.is_member or (function.numeric and not function.is_property):
        assert ">>>" in function.doc or "References" in sections(function.doc)


@cases
def test_parameters_are_those_of_the_signature(function: Function) -> None:
    listed = sections(function.doc).get("Parameters")
    if listed is None:
        return
    names = [
        name.strip()
        for line in listed.splitlines()
        if line and not line.startswith(" ")
        for name in line.split(",")
    ]
    assert sorted(names) == sorted(each.arg for each in function.parameters)


@cases
def test_it_names_the_errors_it_raises(function: Function) -> None:
    for name in function.raised:
        assert name in function.doc, f"raises {name} and does not say so"
