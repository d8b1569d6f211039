"""Whether a journal is what it was, and how far that can be known.

The chain shows that entries fit each other; only an anchor shows that they are the ones that were
written. Without one, a cut tail and a rewrite of everything pass, and the verdict says so.
"""

from __future__ import annotations

import sqlite3
from collections.abc import Iterable
from contextlib import closing
from dataclasses import dataclass
from pathlib import Path

from mixbench.errors import JournalBrokenError, JournalError
from mixbench.i18n import _
from mixbench.journal.anchors import Anchor
from mixbench.journal.chain import ChainBreakError
from mixbench.journal.database import missing_guards, open_reading
from mixbench.journal.faults import explained
from mixbench.journal.rows import rows_from
from mixbench.journal.store import Journal
from mixbench.journal.walk import AnchorFinding, Walk


@dataclass(frozen=True, slots=True)
class Verdict:
    """What verifying a journal found.

    ``entries`` are unbroken from the first on; ``head_seq`` and ``head_hash`` are of the last of
    them. ``first_bad`` is the first entry known not to be what it was, None where none can be
    named, and ``reason`` says why. ``anchored_to`` is the last entry that an anchor fits, 0 for
    none. ``file_findings`` are about the file around the entries.
    """

    intact: bool
    bench: str
    entries: int
    head_seq: int
    head_hash: str
    first_bad: int | None
    reason: str
    anchored_to: int
    anchor_findings: tuple[AnchorFinding, ...]
    file_findings: tuple[str, ...]

    @property
    def words(self) -> str:
        """The verdict in a sentence."""
        if not self.intact:
            return _("NOT intact: {reason} The first {entries} entries fit each other.").format(
                reason=self.reason, entries=self.entries
            )
        best = next((f for f in self.anchor_findings if f.seq == self.anchored_to), None)
        if best is None:
            return _(
                "{entries} entries, unbroken; no anchor given: a cut tail or a whole rewrite cannot"
                " be seen."
            ).format(entries=self.entries)
        said = _("{entries} entries, unbroken; anchored up to entry {seq} by {anchor}").format(
            entries=self.entries, seq=best.seq, anchor=best.anchor.text
        )
        if self.anchored_to == self.entries:
            return said + "."
        return said + _("; nothing vouches for the entries after that.")


def verify(journal: Journal | Path | str, anchors: Iterable[Anchor | str] = ()) -> Verdict:
    """Walk a whole journal in flat memory; a window may go on writing to it meanwhile.

    Parameters
    ----------
    journal
        An open journal, or the path of one.
    anchors
        Fingerprints from outside, as `Anchor` or as text.

    Raises
    ------
    InputError
        An anchor cannot be read.
    JournalError
        There is no journal at the path, or it cannot be read at all.
    """
    path = journal.path if isinstance(journal, Journal) else Path(journal)
    walk = Walk(anchors)
    if not path.is_file():
        raise JournalError(
            _("There is no journal at {path}.").format(path=path),
            remedy=_("Check the name of the file."),
        )
    broken: ChainBreakError | None = None
    file: tuple[str, ...] = ()
    try:
        with explained(path), closing(open_reading(path)) as db:
            for row in rows_from(db):
                walk.add_row(row)
            file = _file_findings(db)
    except ChainBreakError as error:
        broken = error
    except JournalBrokenError as error:  # damage that SQLite itself stumbles over
        broken = ChainBreakError(walk.chain.seq + 1, error.what)
        file = (error.what,)
    return _verdict(walk, broken, file)


def verify_export(path: Path | str, anchors: Iterable[Anchor | str] = ()) -> Verdict:
    """Walk an export of JSON Lines; see `verify`."""
    walk = Walk(anchors)
    broken = None
    try:
        with Path(path).open("rb") as lines:
            for line in lines:
                walk.add(line.removesuffix(b"\n"))
    except ChainBreakError as error:
        broken = error
    except OSError as error:
        raise JournalError(
            _("{path} cannot be read: {reason}.").format(path=path, reason=error.strerror)
        ) from error
    return _verdict(walk, broken, ())


def _file_findings(db: sqlite3.Connection) -> tuple[str, ...]:
    said = tuple(str(row[0]) for row in db.execute("PRAGMA integrity_check(entries)"))
    damage = () if said == ("ok",) else said
    gone = tuple(
        _("{name} was removed or changed with another program").format(name=name)
        for name in missing_guards(db)
    )
    return damage + gone


def _verdict(walk: Walk, broken: ChainBreakError | None, file: tuple[str, ...]) -> Verdict:
    findings = walk.findings(broken)
    against = [finding for finding in findings if not finding.fits]
    bad = [finding.first_bad for finding in against if finding.first_bad is not None]
    if broken is not None:
        bad.append(broken.seq)
        reason = broken.what
    elif against:
        reason = against[0].words
    else:
        reason = "".join(f"{finding}. " for finding in file).rstrip()
    return Verdict(
        intact=broken is None and not against and not file,
        bench=walk.chain.bench,
        entries=walk.chain.seq,
        head_seq=walk.chain.seq,
        head_hash=walk.chain.head,
        first_bad=min(bad, default=None),
        reason=reason,
        anchored_to=max((finding.seq for finding in findings), default=0),
        anchor_findings=findings,
        file_findings=file,
    )
