"""The commands beside the window, for scripts and service; one module each."""
