"""Ground floor: lengths as a tape says them, units, findings, problems, and numbers that carry their working."""
