"""Units a scale may show: those a mix can use, exactly, and those it must refuse by name."""

from __future__ import annotations

from decimal import Decimal

GRAMS_PER: dict[str, Decimal] = {
    "g": Decimal(1),
    "kg": Decimal(1000),
    "mg": Decimal("0.001"),
    "lb": Decimal("453.59237"),
    "oz": Decimal("28.349523125"),
}
"""Grams in one unit; exact by definition (NIST Handbook 44, appendix C)."""

REFUSED = frozenset({"pcs", "%", "ozt", "ct"})
"""Known, but no mass of paint: counting, percent, troy ounces, carats."""

_SPELLINGS = {"pc": "pcs", "lbs": "lb"}


def unit_name(written: str) -> str:
    """Return the plain name of a unit as a scale wrote it, or "" when nobody knows it.

    Blanks, underscores that stand for blanks, and capitals carry no meaning.

    Examples
    --------
    >>> unit_name("kg_"), unit_name(" KG"), unit_name("PCS"), unit_name("xyz")
    ('kg', 'kg', 'pcs', '')
    """
    bare = written.strip(" _").lower()
    name = _SPELLINGS.get(bare, bare)
    return name if name in GRAMS_PER or name in REFUSED else ""
