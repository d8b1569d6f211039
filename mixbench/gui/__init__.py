"""The window: plain-Python presenters, Qt views that render their states, and the bridge."""
