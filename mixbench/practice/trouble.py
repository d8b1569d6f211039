"""What goes wrong between a scale and its host: noise, silence, halves, doubles, wrong parity.

Pure: bytes go in, damaged bytes come out; chance is seeded, time is handed in.
"""

from __future__ import annotations

from random import Random

WRONG, RIGHT = "wrong", "right"


class LineTrouble:
    """Damages what passes through it, as it was told to.

    Parameters
    ----------
    chance
        Source of garbage, and of the places where lines break off.

    Attributes
    ----------
    parity_is_wrong
        The scale sends 7 data bits and even parity while the host reads 8 bits and none.
    """

    def __init__(self, chance: Random) -> None:
        self._chance = chance
        self._garbage = b""
        self._halves = 0
        self._doubles = 0
        self._silent_until_s = 0.0
        self.parity_is_wrong = False

    @property
    def has_garbage(self) -> bool:
        """Whether garbage still waits to be sent."""
        return bool(self._garbage)

    def garbage(self, count: int) -> None:
        """Send so many random bytes before the next line."""
        self._garbage += self._chance.randbytes(count)

    def halve(self, count: int) -> None:
        """Break the next lines off somewhere before their end."""
        self._halves += count

    def double(self, count: int) -> None:
        """Send each of the next lines twice."""
        self._doubles += count

    def silence(self, until_s: float) -> None:
        """Let nothing through until then [s]."""
        self._silent_until_s = until_s

    def outgoing(self, said: bytes, now_s: float) -> bytes:
        """Return what of the scale's words reaches the host."""
        if now_s < self._silent_until_s:
            return b""
        if said and self._halves:
            self._halves -= 1
            said = said[: self._chance.randrange(1, len(said))]
        elif said and self._doubles:
            self._doubles -= 1
            said += said
        said, self._garbage = self._garbage + said, b""
        return with_even_parity(said) if self.parity_is_wrong else said

    def incoming(self, data: bytes) -> bytes:
        """Return what of the host's words the scale can read.

        With the wrong parity, a character of an odd number of ones does not check; it comes out
        with bit 7 set. LF and CR pass, so that the scale knows where a command ended.
        """
        if not self.parity_is_wrong:
            return data
        return bytes(
            byte | 0x80 if _is_odd(byte) and byte not in b"\r\n" else byte for byte in data
        )


def with_even_parity(data: bytes) -> bytes:
    r"""Return 7-bit characters as an 8N1 reader sees them when they are sent as 7E1.

    Bit 7 is set so that each byte has an even number of ones.

    Examples
    --------
    >>> with_even_parity(b"ST,GS,+0012.3")
    b'S\xd4\xacGS\xac+00\xb1\xb2.3'
    """
    return bytes(byte & 0x7F | (0x80 if _is_odd(byte & 0x7F) else 0) for byte in data)


def _is_odd(byte: int) -> bool:
    return byte.bit_count() % 2 == 1
