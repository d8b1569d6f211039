"""An amount in the making: digits and one decimal mark, in ml or g."""

from __future__ import annotations

from mixbench.gui.presenters.figures import typed_number
from mixbench.mixing.model import Amount

LONGEST = 7


class AmountEntry:
    """What was typed so far; comma and point both mean the decimal mark."""

    def __init__(self, *, by_mass: bool) -> None:
        self.text = ""
        self.unit = "g" if by_mass else "ml"

    def type(self, letter: str, decimal: str) -> bool:
        """Take a digit or a decimal mark, shown as ``decimal``; return whether it was taken."""
        if len(self.text) >= LONGEST:
            return False
        mark = letter in (",", ".")
        if not (letter in DIGITS or (mark and not set(",.") & set(self.text))):
            return False
        self.text += decimal if mark else letter
        return True

    def rub_out(self) -> None:
        """Take the last letter back."""
        self.text = self.text[:-1]

    def change_unit(self) -> None:
        """Change between ml and g."""
        self.unit = "g" if self.unit == "ml" else "ml"

    def amount(self) -> Amount | None:
        """Return the amount typed, or None when there is none above zero."""
        number = typed_number(self.text)
        if not number:
            return None
        return Amount(mass_g=number) if self.unit == "g" else Amount(volume_ml=number)


DIGITS = frozenset("0123456789")
