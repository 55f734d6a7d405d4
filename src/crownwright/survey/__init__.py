"""Readings in; coordinates, outline, stone surface and flues out, each with its spread."""

from crownwright.survey.adjust import adjust

__all__ = ["adjust"]
