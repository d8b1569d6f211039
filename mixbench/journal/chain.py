"""The hash chain: whether an entry is the next one, and in words why not.

A chain proves only that the entries fit each other. Anchors (`mixbench.journal.anchors`) tie it
to something outside the file.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from mixbench.canonical import fingerprint, read_canonical
from mixbench.errors import InputError, JournalBrokenError
from mixbench.i18n import _
from mixbench.journal.entry import GENESIS


class ChainBreakError(JournalBrokenError):
    """Entry ``seq`` is not the next in its chain."""

    def __init__(self, seq: int, reason: str) -> None:
        super().__init__(
            _("Entry {seq}: {reason}").format(seq=seq, reason=reason),
            kept=_("Nothing in it was changed."),
            remedy=_("Verify the journal, and compare it with a copy."),
        )
        self.seq = seq
        self.reason = reason


@dataclass(slots=True)
class Chain:
    """A chain as far as it has been walked; it holds only its head.

    ``bench`` is empty until the first entry names it.
    """

    bench: str = ""
    seq: int = 0
    head: str = GENESIS

    def check(self, stored: bytes, recorded: str, named: int | None = None) -> dict[str, Any]:
        """Return the fields of an entry that is the next one.

        Parameters
        ----------
        stored
            The entry's bytes.
        recorded
            The hash kept beside them; empty where none is kept, as in an export.
        named
            The number under which the entry was found; by default the one it gives itself.

        Raises
        ------
        ChainBreakError
            The entry was changed, or is not the next one.
        """
        place = self.seq + 1 if named is None else named
        if recorded and fingerprint(stored) != recorded:
            raise ChainBreakError(place, _("its content does not fit its fingerprint."))
        fields = self._read(stored, place)
        self._check_place(fields, named)
        return fields

    def move(self, fields: dict[str, Any], entry_hash: str) -> None:
        """Move the head to a checked entry."""
        self.bench, self.seq, self.head = fields["bench"], fields["seq"], entry_hash

    def _read(self, stored: bytes, place: int) -> dict[str, Any]:
        try:
            fields = read_canonical(stored)
        except InputError as error:
            raise ChainBreakError(place, error.what) from error
        if not isinstance(fields, dict):
            raise ChainBreakError(place, _("it is not an entry."))
        return fields

    def _check_place(self, fields: dict[str, Any], named: int | None) -> None:
        seq = fields.get("seq")
        if type(seq) is not int:
            raise ChainBreakError(named or self.seq + 1, _("it does not say which entry it is."))
        if named is not None and seq != named:
            raise ChainBreakError(named, _("it says it is entry {seq}.").format(seq=seq))
        if seq != self.seq + 1:
            raise ChainBreakError(
                seq, _("entry {wanted} should stand here.").format(wanted=self.seq + 1)
            )
        if fields.get("prev") != self.head:
            raise ChainBreakError(
                seq,
                _("it does not follow entry {before} as that now stands.").format(before=self.seq),
            )
        if not isinstance(fields.get("bench"), str) or (self.bench not in ("", fields["bench"])):
            raise ChainBreakError(
                seq, _("it is of another bench than {bench}.").format(bench=self.bench)
            )
