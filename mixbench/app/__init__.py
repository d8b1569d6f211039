"""The composition root: the only place that chooses the real parts, and opens the window."""
