"""Speed, data bits, parity and stop bits: in words, and as the bytes themselves betray them."""

from __future__ import annotations

import re

from mixbench.errors import SettingsError
from mixbench.i18n import _
from mixbench.scales.shape import SerialSettings

_PARITIES = {"N": "none", "E": "even", "O": "odd"}
_LETTERS = {name: letter for letter, name in _PARITIES.items()}
_WORDS = re.compile(r"([0-9]{2,6}) ([78])([NEO])([12])(?: (rts/cts|xon/xoff))?")
_ENOUGH_BYTES = 12
_CLEAR_SHARE = 0.95


def wire_words(settings: SerialSettings) -> str:
    """Return settings as people write them.

    Examples
    --------
    >>> wire_words(SerialSettings(2400, 7, "even"))
    '2400 7E1'
    >>> wire_words(SerialSettings(1200, 7, "odd", 1, "rts/cts"))
    '1200 7O1 rts/cts'
    """
    short = f"{settings.baud} {settings.bits}{_LETTERS[settings.parity]}{settings.stop}"
    return short if settings.handshake == "none" else f"{short} {settings.handshake}"


def wire_settings(text: str) -> SerialSettings:
    """Return the settings that `wire_words` wrote.

    Raises
    ------
    SettingsError
        The text is something else.
    """
    match = _WORDS.fullmatch(text.strip())
    if match is None:
        raise SettingsError(
            _("{text} is no speed and bits of a line.").format(text=repr(text)),
            remedy=_("Write them such as 9600 8N1 or 2400 7E1, or leave scale_wire empty."),
        )
    baud, bits, parity, stop, handshake = match.groups()
    return SerialSettings(int(baud), int(bits), _PARITIES[parity], int(stop), handshake or "none")


def truly_seven_bit(data: bytes, settings: SerialSettings) -> SerialSettings | None:
    r"""Return the 7-bit settings of a line that was read with 8 bits and no parity; else None.

    A character of 7 bits with parity fills the same ten bits as one of 8 bits without, so it
    arrives whole with its parity in bit 7: the count of ones in every byte is then even, or odd.
    With two stop bits and no parity, bit 7 is always set. Text of 8 bits has bit 7 clear and
    mixes odd and even, and so does a wrong speed.

    Parameters
    ----------
    data
        What came; fewer than twelve bytes tell nothing.
    settings
        What it was read with.

    Examples
    --------
    >>> truly_seven_bit(b"S\xd4\xacGS\xac+00\xb1\xb2.3\xb45\xa0\xa0\xeb\xe7", SerialSettings(2400))
    SerialSettings(baud=2400, bits=7, parity='even', stop=1, handshake='none')
    """
    if len(data) < _ENOUGH_BYTES or settings.bits != 8 or data.isascii():
        return None
    enough = _CLEAR_SHARE * len(data)
    odd = sum(byte.bit_count() % 2 for byte in data)
    if sum(byte > 127 for byte in data) >= enough:
        return SerialSettings(settings.baud, 7, "none", 2)
    if len(data) - odd >= enough:
        return SerialSettings(settings.baud, 7, "even")
    if odd >= enough:
        return SerialSettings(settings.baud, 7, "odd")
    return None
