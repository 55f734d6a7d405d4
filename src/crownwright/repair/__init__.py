"""The chimney below the cap."""
