"""The top of a chimney while it is being read: what is in, how it closes, what to read next. Works on a job half typed."""

from crownwright.service.up_top.model import Ask, Sketch, Step, UpTop
from crownwright.service.up_top.verb import change_for, up_top

__all__ = ["Ask", "Sketch", "Step", "UpTop", "change_for", "up_top"]
