"""A design compared with rules."""
