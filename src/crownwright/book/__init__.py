"""The job book: every job as it was typed, every revision of it, kept in SQL (one file by default, a database by its address)."""
