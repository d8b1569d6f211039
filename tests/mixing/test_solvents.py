"""Solvents that stand in for what a sheet leaves out."""

from __future__ import annotations

import pytest

from mixbench.errors import MissingFigureError, RangeError, TableError
from mixbench.mixing.solvents import parse_solvents
from mixbench.resource import resource_path

TEXT = """
[solvents.toluene]
name = "toluene"
cas = "108-88-3"
density = "0.8669 g/ml"
expansion = "0.00107 1/K"
source = "a library"
mark = "RUN"
"""


def cas_is_sound(number: str) -> bool:
    """Whether the last digit of a CAS number checks the others."""
    *digits, check = (int(digit) for digit in number if digit.isdigit())
    weighted = sum(place * digit for place, digit in enumerate(reversed(digits), start=1))
    return weighted % 10 == check


def test_the_shipped_solvents_are_sound() -> None:
    text = resource_path("solvents.toml").read_text("utf-8")
    solvents = parse_solvents(text, "solvents.toml")
    assert len(solvents) >= 20
    for solvent in solvents.values():
        assert cas_is_sound(solvent.cas), solvent.name
        assert 0.7 < solvent.density_g_ml < 1.4
        assert solvent.expansion_per_k is None or 0.0002 <= solvent.expansion_per_k < 0.0015


def test_a_density_follows_the_temperature() -> None:
    toluene = parse_solvents(TEXT, "s")["toluene"]
    assert toluene.density_at(20.0) == 0.8669
    assert toluene.density_at(30.0) < toluene.density_at(20.0) < toluene.density_at(10.0)
    with pytest.raises(RangeError):
        toluene.density_at(300.0)


def test_without_expansion_only_20_degrees_are_known() -> None:
    toluene = parse_solvents(TEXT.replace('expansion = "0.00107 1/K"\n', ""), "s")["toluene"]
    assert toluene.density_at(20.0) == 0.8669
    with pytest.raises(MissingFigureError, match="expansion is not known"):
        toluene.density_at(25.0)


@pytest.mark.parametrize(
    ("old", "new", "said"),
    [
        ("0.8669 g/ml", "866.9 kg/m3", 'Write it such as "0.8809 g/ml"'),
        ("0.8669 g/ml", "8.669 g/ml", "between 0.3 and 5 g/ml"),
        ("0.00107 1/K", "0.107 %/K", 'Write it such as "0.00112 1/K"'),
        ("0.00107 1/K", "0.0107 1/K", "between 0 and 0.003"),
        ('cas = "108-88-3"', "", "cas is missing"),
        ('mark = "RUN"', 'mark = "RUN"\nsmell = "sweet"', "smell is not known here"),
        ("[solvents.toluene]", "[fluids.toluene]", "no table [solvents"),
    ],
)
def test_a_wrong_table_says_what_to_write(old: str, new: str, said: str) -> None:
    with pytest.raises(TableError) as refused:
        parse_solvents(TEXT.replace(old, new), "solvents.toml")
    assert said in str(refused.value)
