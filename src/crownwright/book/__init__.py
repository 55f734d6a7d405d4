"""The job book: jobs as they were typed, and every revision."""
