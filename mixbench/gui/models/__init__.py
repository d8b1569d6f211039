"""Item models over immutable rows."""
