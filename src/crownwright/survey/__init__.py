"""Readings in; coordinates, outline, stone surface and flues out, each with its spread."""
