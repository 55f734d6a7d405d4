"""Published sources: the bibliography and the tables transcribed from it, as data."""
