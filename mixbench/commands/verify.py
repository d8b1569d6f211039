"""``mixbench verify``: what of a journal is intact, and up to where something outside proves it."""

from __future__ import annotations

import argparse
from pathlib import Path

from mixbench.commands.data import data_folder
from mixbench.commands.output import DONE, REFUSED, guarded, say, say_json
from mixbench.journal.verify import Verdict, verify
from mixbench.ledger.bench import JOURNAL_FILE


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Declare the command's own words."""
    parser.add_argument("file", nargs="?", type=Path, help="journal file; this bench's by default")
    parser.add_argument(
        "--anchor",
        nargs="+",
        action="extend",
        default=[],
        metavar="ANCHOR",
        help="fingerprint kept elsewhere, as a label or a seal prints it",
    )


def run(args: argparse.Namespace) -> int:
    """Verify a journal; exit 0 when it is intact and every anchor fits, 1 when not."""
    return guarded(lambda: _run(args), as_json=args.json)


def _run(args: argparse.Namespace) -> int:
    path = args.file or data_folder(args) / JOURNAL_FILE
    verdict = verify(path, args.anchor)
    if args.json:
        say_json({"file": str(path), **_as_json(verdict)})
    else:
        say(f"{path}: {verdict.words}")
        for finding in verdict.anchor_findings:
            say(f"  {finding.words}")
        for words in verdict.file_findings:
            say(f"  {words}")
    return DONE if verdict.intact else REFUSED


def _as_json(verdict: Verdict) -> dict[str, object]:
    return {
        "intact": verdict.intact,
        "words": verdict.words,
        "bench": verdict.bench,
        "entries": verdict.entries,
        "head": {"seq": verdict.head_seq, "hash": verdict.head_hash},
        "first_bad": verdict.first_bad,
        "reason": verdict.reason,
        "anchored_to": verdict.anchored_to,
        "anchors": [
            {"anchor": one.anchor.text, "fits": one.fits, "seq": one.seq, "words": one.words}
            for one in verdict.anchor_findings
        ],
        "file_findings": list(verdict.file_findings),
    }
