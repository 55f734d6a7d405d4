"""One verb a file: the only place that joins book, plan and sheets."""
