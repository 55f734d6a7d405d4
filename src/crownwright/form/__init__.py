"""The wood form: pieces, cut list, what holds it."""
