"""An entry of the journal as far as presenters read it."""

from __future__ import annotations

from typing import Any, Protocol


class Recorded(Protocol):
    """Kind, body, who, and when [ms since 1970, UTC]."""

    @property
    def kind(self) -> str:
        """What happened."""

    @property
    def at(self) -> int:
        """When."""

    @property
    def by(self) -> str:
        """Who."""

    @property
    def body(self) -> Any:  # noqa: ANN401  any JSON object
        """The rest."""
