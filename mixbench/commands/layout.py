"""Plain aligned text for people: tables and lists of facts, in the reader's decimal mark."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from mixbench.i18n import figure

GAP = "  "


def number(value: float | None, decimals: int = 1) -> str:
    """Return a number as it is printed; a dash where there is none.

    Examples
    --------
    >>> number(12.345, 2), number(None), number(-0.04)
    ('12.35', '-', '0.0')
    """
    if value is None:
        return "-"
    text = f"{value:.{decimals}f}"
    return figure(text.removeprefix("-") if float(text) == 0.0 else text)


def table(head: Sequence[str], rows: Iterable[Sequence[str]]) -> list[str]:
    """Return a table as lines: the first column to the left, figures to the right.

    Parameters
    ----------
    head
        Titles of the columns.
    rows
        Cells, as many in each row as there are titles.

    Examples
    --------
    >>> rows = [("Base", "100.0", "98.0"), ("Pot", "125.0", "")]
    >>> for line in table(("", "target", "from"), rows):
    ...     print(line)
          target  from
    Base   100.0  98.0
    Pot    125.0
    """
    lines = [tuple(head), *map(tuple, rows)]
    widths = [max(map(len, column)) for column in zip(*lines, strict=True)]
    return [
        GAP.join(
            [line[0].ljust(widths[0])]
            + [cell.rjust(width) for cell, width in zip(line[1:], widths[1:], strict=True)]
        ).rstrip()
        for line in lines
    ]


def facts(pairs: Iterable[tuple[str, str]]) -> list[str]:
    """Return names with what they are, both to the left.

    Examples
    --------
    >>> for line in facts([("Area", "1.2 m²"), ("Coats", "1.5")]):
    ...     print(line)
    Area   1.2 m²
    Coats  1.5
    """
    listed = list(pairs)
    width = max((len(name) for name, _value in listed), default=0)
    return [f"{name.ljust(width)}{GAP}{value}" for name, value in listed]
