"""Every published scale line means what its source says.

Source: ``data/scale_lines.csv``; each row names where its line was read and carries its mark
(READ: in a public copy of the source; RUN: derived from the described layout and tried;
MEMORY: not confirmed). The SMA rows are SMA SCP-0499 sections 5.1 to 5.3.
"""

from __future__ import annotations

import csv
import re
from decimal import Decimal
from pathlib import Path

import pytest

from mixbench.scales.framing import Framer
from mixbench.scales.lines import Unmatched, parse
from mixbench.scales.profiles import load_profiles, shipped_profiles
from mixbench.weighing.reading import Basis, Load, Reading

TABLE = Path(__file__).parent / "data" / "scale_lines.csv"
ROWS = list(csv.DictReader(TABLE.read_text(encoding="utf-8").splitlines()))
SHELF = load_profiles(shipped_profiles())
PROFILE_OF = {"sma-reply": "sma"}
"""Shapes of the table that are answered by a profile of another name."""

BASIS = {"G": Basis.GROSS, "N": Basis.NET, "T": Basis.TARE, "": Basis.UNSAID}
STABLE = {"1": True, "0": False, "": None}
LOAD = {"over": Load.OVER, "under": Load.UNDER, "0": Load.OK}
EXACT_GRAMS = {"kg": "1000", "g": "1", "lb": "453.59237", "oz": "28.349523125"}
REFUSED_UNITS = {"ct", "ozt", "pcs"}


def wire_bytes(row: dict[str, str]) -> bytes:
    """Return the row's line as bytes; the table writes control and high bytes as escapes."""
    return re.sub(
        r"\\(x[0-9a-f]{2}|[rn])",
        lambda found: {"r": "\r", "n": "\n"}.get(found[1]) or chr(int(found[1][1:], 16)),
        row["line"],
    ).encode("latin-1")


def results(row: dict[str, str]) -> list[Reading | Unmatched]:
    """Return what the profile makes of the row's line."""
    profile = SHELF[PROFILE_OF.get(row["shape"], row["shape"])]
    return [parse(profile, frame, 0.0) for frame in Framer(profile).feed(wire_bytes(row))]


def test_every_published_shape_has_a_profile_and_every_profile_published_lines() -> None:
    assert not SHELF.problems
    assert {PROFILE_OF.get(row["shape"], row["shape"]) for row in ROWS} == set(SHELF)


@pytest.mark.parametrize(
    "row",
    [row for row in ROWS if row["valid"] == "0"],
    ids=lambda row: f"{row['shape']} {row['line']}",
)
def test_a_malformed_line_gives_no_reading(row: dict[str, str]) -> None:
    assert [result for result in results(row) if isinstance(result, Reading)] == []


@pytest.mark.parametrize(
    "row",
    [row for row in ROWS if row["valid"] == "1"],
    ids=lambda row: f"{row['shape']} {row['line']}",
)
def test_a_published_line_means_what_its_source_says(row: dict[str, str]) -> None:
    (result,) = results(row)
    if not row["expected_value"] and not row["expected_unit"] and row["overload"] == "0":
        assert isinstance(result, Reading) or result.expected
        assert isinstance(result, Unmatched) or result.load is Load.ERROR
        return
    assert isinstance(result, Reading)
    assert result.stable is STABLE[row["stable"]] or row["overload"] != "0"
    assert result.basis is BASIS[row["net_or_gross"]]
    if row["overload"] == "0" and not row["expected_value"]:
        assert result.load is Load.ERROR
    else:
        assert result.load is LOAD[row["overload"]]
    assert result.mass_g == expected_mass_g(row, result)


def expected_mass_g(row: dict[str, str], result: Reading) -> float | None:
    """Return what the row's value weighs; None where no number may be taken."""
    default = SHELF[PROFILE_OF.get(row["shape"], row["shape"])].default_unit
    unit = row["expected_unit"] or default
    assert result.unit == unit
    if row["overload"] != "0" or not row["expected_value"] or unit in REFUSED_UNITS:
        return None
    return float(Decimal(row["expected_value"]) * Decimal(EXACT_GRAMS[unit]))


def test_a_line_read_with_the_wrong_data_bits_says_so() -> None:
    (row,) = [row for row in ROWS if "parity lands in bit 7" in row["source"]]
    (result,) = results(row)
    assert isinstance(result, Unmatched)
    assert result.reason.startswith("Wrong data bits or parity")
