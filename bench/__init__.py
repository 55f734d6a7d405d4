"""Seeded measurements; each writes its table into docs/bench."""
