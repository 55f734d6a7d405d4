"""Crownwright: from a mason's readings on a chimney top to a cast concrete cap that can be built."""

__version__ = "0.1.0"
