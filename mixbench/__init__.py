"""mixbench: a mixing-scale companion for vehicle refinishing."""

__version__ = "0.1.0"
