"""One bench and everything in its data folder, opened together and closed together."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path
from types import TracebackType

from mixbench.errors import JournalError, Problem
from mixbench.journal.store import Journal
from mixbench.ledger.library import RecipeLibrary
from mixbench.ledger.pots import Pots, PotsProjection
from mixbench.ledger.scale_care import ChecksProjection, ScaleCare, StopsProjection
from mixbench.settings import Settings, load_settings, save_settings

JOURNAL_FILE = "journal.db"
PROJECTIONS = (PotsProjection(), ChecksProjection(), StopsProjection())


@dataclass
class Bench:
    """A data folder in use: the journal is this bench's until it is closed."""

    folder: Path
    settings: Settings
    problems: tuple[Problem, ...]
    journal: Journal
    pots: Pots
    care: ScaleCare
    library: RecipeLibrary

    @classmethod
    def open(cls, folder: Path) -> Bench:
        """Open a data folder, making it when it is new.

        Raises
        ------
        JournalError
            The journal is in use, broken, of a newer version, or cannot be written.
        """
        settings, problems = load_settings(folder)
        library = RecipeLibrary.read(folder / "recipes")
        try:
            journal = Journal.open(
                folder / JOURNAL_FILE, bench=settings.bench, projections=PROJECTIONS
            )
        except JournalError as error:
            if not problems:
                raise
            # The settings name the bench, so their problems may be the reason.
            what = " ".join([error.what, *map(str, problems)])
            raise type(error)(what, kept=error.kept, remedy=error.remedy) from error
        return cls(folder, settings, problems, journal, Pots(journal), ScaleCare(journal), library)

    def change_settings(self, settings: Settings) -> None:
        """Keep other settings, in the file and in force.

        Raises
        ------
        SettingsError
            The file could not be written; the settings from before stay in force.
        """
        save_settings(self.folder, settings)
        self.settings = settings

    def close(self) -> None:
        """Let go of the journal."""
        self.journal.close()

    def __enter__(self) -> Bench:
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None,
        error: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        self.close()
