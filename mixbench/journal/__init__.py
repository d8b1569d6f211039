"""The append-only journal: entries, canonical bytes, hash chain, SQLite store, verify, anchors."""
