"""From the survey to a cap: fit, levels, wash, drip, joint, steel and volume."""
