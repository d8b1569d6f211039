"""An indication as a line of a scale, one renderer for each shape that has a shipped profile.

To add a shape: write a function from an indication to bytes, framing included, and name it in
``RENDERERS`` like its profile. A renderer that has no word for a state of the scale (overload,
fault) says what a real one of its shape would: nothing, or words that are no number.

Layouts: the rows of scale_lines.csv and the table of shapes in weighing.md §2 (mostly READ in
public manuals; each row carries its mark). Field widths follow those rows byte for byte.
"""

from __future__ import annotations

from collections.abc import Callable

from mixbench.practice.indication import Indication
from mixbench.weighing.reading import Basis, Load

Renderer = Callable[[Indication], bytes]

SMA_DASHES = "-" * 10
_WORDS = {Load.OVER: "overload", Load.UNDER: "underload", Load.ERROR: "fault"}


def sma(indication: Indication) -> bytes:
    r"""Return the 20-byte standard reply of SMA SCP-0499 §5.1 (READ).

    LF, status, range, gross or net, motion, custom, ten characters of weight, three of unit, CR.

    Examples
    --------
    >>> from decimal import Decimal
    >>> sma(Indication(Decimal("1234.5"), "g", True, Basis.NET, Load.OK, False))
    b'\n 1N      1234.5g  \r'
    """
    faulty = indication.load is Load.ERROR
    weight = SMA_DASHES if faulty else f"{indication.value:f}"
    return sma_reply(indication, _sma_status(indication), weight)


def sma_reply(
    indication: Indication, status: str, weight: str, *, unit: str | None = None, basis: str = ""
) -> bytes:
    """Return a standard reply with a status and a weight field of one's own, such as dashes.

    ``basis`` names another weight than the one shown, such as ``T``; high resolution is written in
    lower case.
    """
    basis = basis or ("N" if indication.basis is Basis.NET else "G")
    basis = basis.lower() if indication.fine else basis
    motion = " " if indication.stable else "M"
    unit = indication.unit if unit is None else unit
    return f"\n{status}1{basis}{motion} {weight:>10}{unit:<3}\r".encode("ascii")


def hdr2(indication: Indication) -> bytes:
    r"""Return a line with two headers: stillness or overload, and gross or net.

    The layout of the fixtures marked READ in scale_lines.csv: sign, eight digits, unit in four
    characters, CR LF; over and under leave the digits blank and keep the sign. A fault is not
    spoken.

    Examples
    --------
    >>> from decimal import Decimal
    >>> hdr2(Indication(Decimal("-12.3"), "g", False, Basis.NET, Load.OK, False))
    b'US,NT,-000012.3   g\r\n'
    """
    basis = "NT" if indication.basis is Basis.NET else "GS"
    if indication.load is Load.ERROR:
        return b""
    if indication.load is not Load.OK:
        return _line(f"OL,{basis},{_side(indication)}{'':12}")
    header = "ST" if indication.stable else "US"
    digits = f"{abs(indication.value):08f}"
    return _line(f"{header},{basis},{_sign(indication, '+')}{digits}{indication.unit:>4}")


def hdr1(indication: Indication) -> bytes:
    """Return 15 characters behind one header; over and under carry figures that mean nothing."""
    if indication.load is Load.ERROR:
        return b""
    if indication.load is not Load.OK:
        return _line(f"OL,{_side(indication)}9999999E+19")
    header = "ST" if indication.stable else "US"
    digits = f"{abs(indication.value):08f}"
    return _line(f"{header},{_sign(indication, '+')}{digits}{indication.unit:>3}")


def signnum16(indication: Indication) -> bytes:
    """Return 14 characters whose unit is blank while the weight moves; H and L out of range."""
    if indication.load is Load.ERROR:
        return _line(f"{'Err 054':14}")
    if indication.load is not Load.OK:
        return _line(f"      {'H' if indication.load is Load.OVER else 'L'}       ")
    sign = _sign(indication, "+") if indication.value else " "
    unit = indication.unit if indication.stable else ""
    return _line(f"{sign} {abs(indication.value):>8f} {unit:3}")


def nummark(indication: Indication) -> bytes:
    """Return number, unit and a question mark while moving; out of range words, no number."""
    mark = " " if indication.stable else "?"
    if indication.load is not Load.OK:
        return _line(f"{_WORDS[indication.load]:>12}       ")
    return _line(f"{indication.value:>12f} {indication.unit:5}{mark}")


def markfirst(indication: Indication) -> bytes:
    """Return mark, sign, number and unit; ``^`` and ``v`` stand for over and under range."""
    if indication.load is Load.ERROR:
        return b""
    marks = {Load.OVER: "^", Load.UNDER: "v", Load.OK: " " if indication.stable else "?"}
    digits = f"{abs(indication.value):>9f}"
    return _line(f"{marks[indication.load]} {_sign(indication, ' ')}{digits} {indication.unit:3}")


def cmdresp(indication: Indication) -> bytes:
    """Return an answer line: still, moving, over, under, or not able to answer now."""
    if indication.load is Load.ERROR:
        return _line("S I")
    if indication.load is not Load.OK:
        return _line(f"S {_side(indication)}")
    status = "S" if indication.stable else "D"
    return _line(f"S {status} {indication.value:>10f} {indication.unit}")


def letter(indication: Indication) -> bytes:
    """Return S or U, sign, eight characters of weight and unit; ``oL`` out of range."""
    if indication.load is Load.ERROR:
        return b""
    status = "S" if indication.stable else "U"
    if indication.load is not Load.OK:
        return _line(f"{status}{'-' if indication.load is Load.UNDER else ' '}   oL")
    return _line(f"{status}{_sign(indication, ' ')}{abs(indication.value):>8f}{indication.unit}")


def stxstat(indication: Indication) -> bytes:
    """Return sign, seven characters and a status between STX and ETX; the line names no unit.

    A figure too long for its seven characters counts as over range.
    """
    digits = f"{abs(indication.value):>7f}"
    status = {Load.OVER: "O", Load.UNDER: "U", Load.ERROR: "E"}.get(indication.load)
    if status is None and len(digits) > 7:
        status = "O"
    if status is not None:
        digits = " 999.99"
    elif not indication.stable:
        status = "M"
    else:
        status = "N" if indication.basis is Basis.NET else "G"
    return f"\x02{_sign(indication, ' ')}{digits}{status}\x03".encode("ascii")


def flagcsv(indication: Indication) -> bytes:
    """Return the flag of movement, gross, tare and net; the line names no unit."""
    flag = "0" if indication.stable else "1"
    if indication.load is Load.ERROR:
        return b""
    if indication.load is not Load.OK:
        word = "-   ol" if indication.load is Load.UNDER else "    ol"
        return _line(f"{flag},{word},{word},{word}")
    tare = indication.tare
    weights = (indication.value + tare, tare, indication.value)
    return _line(",".join((flag, *(f"{weight:07f}" for weight in weights))))


def bare(indication: Indication) -> bytes:
    """Return weight and unit; out of range there is no word, so the scale falls silent."""
    if indication.load is not Load.OK:
        return b""
    return _line(f"{indication.value:>7f} {indication.unit}")


def lffill(indication: Indication) -> bytes:
    """Return nine characters and the unit between LF and CR; out of range the field is filled."""
    fill = {Load.OVER: "^", Load.UNDER: "_", Load.ERROR: "-"}.get(indication.load)
    weight = fill * 9 if fill else f"{indication.value:>9f}"
    return f"\n{weight}{indication.unit}\r".encode("ascii")


RENDERERS: dict[str, Renderer] = {
    "bare": bare,
    "cmdresp": cmdresp,
    "flagcsv": flagcsv,
    "hdr1": hdr1,
    "hdr2": hdr2,
    "letter": letter,
    "lffill": lffill,
    "markfirst": markfirst,
    "nummark": nummark,
    "signnum16": signnum16,
    "sma": sma,
    "stxstat": stxstat,
}

FIRST_UNIT = {"flagcsv": "kg", "stxstat": "g"}
"""Unit that a scale of a shape which names none is set to when it leaves its box, as its profile
takes it. Its unit key still works, and the line does not tell: that is real trouble."""


def _line(text: str) -> bytes:
    return f"{text}\r\n".encode("ascii")


def _sign(indication: Indication, plus: str) -> str:
    return "-" if indication.value < 0 else plus


def _side(indication: Indication) -> str:
    return "-" if indication.load is Load.UNDER else "+"


def _sma_status(indication: Indication) -> str:
    statuses = {Load.OVER: "O", Load.UNDER: "U", Load.ERROR: "I"}
    return statuses.get(indication.load, "Z" if indication.centre_of_zero else " ")
