"""Times of day at this place, from the whole milliseconds of the journal."""

from __future__ import annotations

from datetime import UTC, datetime


def time_of_day(at_ms: int) -> str:
    """Return hours and minutes of a moment [ms since 1970, UTC]."""
    return _local(at_ms).strftime("%H:%M")


def day(at_ms: int) -> str:
    """Return the date of a moment in the order that sorts [ms since 1970, UTC]."""
    return _local(at_ms).strftime("%Y-%m-%d")


def _local(at_ms: int) -> datetime:
    return datetime.fromtimestamp(at_ms / 1000, tz=UTC).astimezone()
