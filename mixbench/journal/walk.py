"""One walk over a journal, entry by entry, with the anchors laid beside it."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from typing import Any

from mixbench.canonical import fingerprint
from mixbench.errors import InputError
from mixbench.i18n import _
from mixbench.journal.anchors import Anchor, parse_anchor
from mixbench.journal.chain import Chain, ChainBreakError
from mixbench.journal.entry import fields_of
from mixbench.journal.rows import Row

Form = Callable[[object], dict[str, Any]]


@dataclass(frozen=True, slots=True)
class AnchorFinding:
    """What became of one anchor.

    ``seq`` is the number of the entry it was taken from, 0 if that is not there unchanged.
    ``first_bad`` is the first entry that it shows to be changed or missing, where it can tell.
    """

    anchor: Anchor
    seq: int
    first_bad: int | None
    words: str

    @property
    def fits(self) -> bool:
        """Whether the entry it was taken from is there, unchanged."""
        return self.seq > 0


class Walk:
    """Entries met in order, each the next of one chain.

    ``form`` returns an entry's fields or raises `InputError`; a chain of other records than ours
    can be walked with another one.
    """

    def __init__(self, anchors: Iterable[Anchor | str] = (), form: Form = fields_of) -> None:
        given = (a if isinstance(a, Anchor) else parse_anchor(a) for a in anchors)
        self.chain = Chain()
        self._form = form
        self._anchors = tuple(given)
        self._fits: dict[Anchor, int] = {}
        self._expected: defaultdict[int | str, list[Anchor]] = defaultdict(list)
        for anchor in self._anchors:
            self._expected[anchor.seq or anchor.prefix].append(anchor)

    def add_row(self, row: Row) -> None:
        """Meet a row of the table.

        Raises
        ------
        ChainBreakError
            It is not the next entry, or its columns say something else than its bytes.
        """
        fields = self._check(row.entry, row.hash, row.seq)
        if row[1:5] != (fields["at"], fields["kind"], fields["op"], fields["prev"]):
            raise _column_differs(row, fields)
        self._move(fields, row.hash)

    def add(self, stored: bytes, recorded: str = "") -> None:
        """Meet stored bytes alone, as in an export, perhaps with the hash recorded for them.

        Raises
        ------
        ChainBreakError
            It is not the next entry.
        """
        self._move(self._check(stored, recorded), recorded or fingerprint(stored))

    def findings(self, broken: ChainBreakError | None) -> tuple[AnchorFinding, ...]:
        """Return what became of each anchor, once the walk is over."""
        return tuple(self._finding(anchor, broken) for anchor in self._anchors)

    def _check(self, stored: bytes, recorded: str, named: int | None = None) -> dict[str, Any]:
        fields = self.chain.check(stored, recorded, named)
        try:
            return self._form(fields)
        except InputError as error:
            raise ChainBreakError(fields["seq"], error.what) from error

    def _move(self, fields: dict[str, Any], entry_hash: str) -> None:
        self.chain.move(fields, entry_hash)
        if not self._anchors:
            return
        for key in (fields["seq"], entry_hash[:32]):
            self._meet(key, fields["bench"], entry_hash)

    def _meet(self, key: int | str, bench: str, entry_hash: str) -> None:
        for anchor in self._expected.get(key, ()):
            if anchor.fits(entry_hash) and anchor.bench in ("", bench):
                self._fits[anchor] = self.chain.seq

    def _finding(self, anchor: Anchor, broken: ChainBreakError | None) -> AnchorFinding:
        fits = self._fits.get(anchor, 0)
        first_bad = None
        if fits:
            words = _("Anchor {anchor} fits entry {seq}.")
        elif anchor.bench not in ("", self.chain.bench):
            words = _("Anchor {anchor} is of bench {bench}; the journal is of bench {found}.")
        elif anchor.seq and anchor.seq <= self.chain.seq:
            first_bad = anchor.seq
            words = _("Anchor {anchor} does not fit entry {seq}: that, or one before, was changed.")
        elif broken is not None:
            words = _("Anchor {anchor} was not reached.")
        elif anchor.seq:
            first_bad = self.chain.seq + 1
            words = _("Anchor {anchor} is of entry {seq}; the journal was cut after entry {ends}.")
        else:
            words = _("Anchor {anchor} fits no entry: its own was changed or cut off.")
        said = words.format(
            anchor=anchor.text,
            seq=fits or anchor.seq,
            ends=self.chain.seq,
            bench=anchor.bench,
            found=self.chain.bench or "–",
        )
        return AnchorFinding(anchor, fits, first_bad, said)


def _column_differs(row: Row, fields: dict[str, Any]) -> ChainBreakError:
    name = next(name for name in ("at", "kind", "op", "prev") if getattr(row, name) != fields[name])
    return ChainBreakError(row.seq, _("its column {name} says something else.").format(name=name))
