"""Writes to a journal until it is killed: ``python -m tests.helpers.journal_writer PATH``.

Prints "open" once it has the journal, then the number of every entry after its append returned, and
"refused" before an append is tried once more. With COUNT it stops after as many entries; with
PAUSE [s] it rests between them.
"""

import sys
import time

from mixbench.errors import JournalWriteError
from mixbench.journal.store import Journal
from tests.helpers.journal import Tally, pour


def main(path: str, count: str = "0", pause_s: str = "0") -> None:
    with Journal.open(path, bench="B1", projections=[Tally()]) as journal:
        print("open", flush=True)
        for _number in range(int(count) or sys.maxsize):
            op = f"op-{journal.count + 1}"
            try:
                entry = pour(journal, 1, op=op)
            except JournalWriteError as error:
                print("refused", flush=True)
                print(error, file=sys.stderr)
                entry = pour(journal, 1, op=op)
            print(entry.seq, flush=True)
            time.sleep(float(pause_s))


if __name__ == "__main__":
    main(*sys.argv[1:])
