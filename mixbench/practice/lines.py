"""An indication as a line of a scale, one renderer for each profile the practice scale can speak.

To add a shape: write a function from an indication to bytes, end of line included, and name it in
``RENDERERS`` like its profile.
"""

from __future__ import annotations

from collections.abc import Callable

from mixbench.practice.indication import Indication
from mixbench.weighing.reading import Basis, Load

Renderer = Callable[[Indication], bytes]

SMA_DASHES = "-" * 10


def sma(indication: Indication) -> bytes:
    r"""Return the 20-byte standard reply of SMA SCP-0499 §5.1 (READ).

    LF, status, range, gross or net, motion, custom, ten characters of weight, three of unit, CR.

    Examples
    --------
    >>> from decimal import Decimal
    >>> sma(Indication(Decimal("1234.5"), "g", True, Basis.NET, Load.OK, False))
    b'\n 1N      1234.5g  \r'
    """
    return sma_reply(indication, _sma_status(indication), f"{indication.value:f}")


def sma_reply(indication: Indication, status: str, weight: str, unit: str | None = None) -> bytes:
    """Return a standard reply with a status and a weight field of one's own, such as dashes."""
    basis = "N" if indication.basis is Basis.NET else "G"
    motion = " " if indication.stable else "M"
    unit = indication.unit if unit is None else unit
    return f"\n{status}1{basis}{motion} {weight:>10}{unit:<3}\r".encode("ascii")


def hdr2(indication: Indication) -> bytes:
    r"""Return a line with two headers: stillness or overload, and gross or net.

    The layout of the fixtures marked READ in scale_lines.csv: sign, eight digits, unit in four
    characters, CR LF; over and under leave the digits blank and keep the sign.

    Examples
    --------
    >>> from decimal import Decimal
    >>> hdr2(Indication(Decimal("-12.3"), "g", False, Basis.NET, Load.OK, False))
    b'US,NT,-000012.3   g\r\n'
    """
    basis = "NT" if indication.basis is Basis.NET else "GS"
    if indication.load is not Load.OK:
        sign = "-" if indication.load is Load.UNDER else "+"
        return f"OL,{basis},{sign}{'':12}\r\n".encode("ascii")
    header = "ST" if indication.stable else "US"
    sign = "-" if indication.value < 0 else "+"
    digits = f"{abs(indication.value):08f}"
    return f"{header},{basis},{sign}{digits}{indication.unit:>4}\r\n".encode("ascii")


RENDERERS: dict[str, Renderer] = {"hdr2": hdr2, "sma": sma}


def _sma_status(indication: Indication) -> str:
    if indication.load is Load.OVER:
        return "O"
    if indication.load is Load.UNDER:
        return "U"
    return "Z" if indication.centre_of_zero else " "
