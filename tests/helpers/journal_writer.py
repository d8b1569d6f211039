"""Writes to a journal until it is killed: ``python -m tests.helpers.journal_writer PATH [COUNT]``.

Prints "open" once it has the journal, then the number of every entry after its append returned,
or what an append that was refused said for certain. With a count it stops after as many entries.
"""

import itertools
import sys

from mixbench.errors import JournalWriteError
from mixbench.journal.store import Journal
from tests.helpers.journal import Tally, pour


def main(path: str, count: str = "") -> None:
    with Journal.open(path, bench="B1", projections=[Tally()]) as journal:
        print("open", flush=True)
        for _number in range(int(count)) if count else itertools.count():
            op = f"op-{journal.count + 1}"
            try:
                entry = pour(journal, 1, op=op)
            except JournalWriteError as error:
                print("refused", flush=True)
                print(error, file=sys.stderr)
                entry = pour(journal, 1, op=op)
            print(entry.seq, flush=True)


if __name__ == "__main__":
    main(*sys.argv[1:])
