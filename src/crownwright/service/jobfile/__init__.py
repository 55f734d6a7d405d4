"""The job file: a job as a mason types it (TOML), and the same job in Python. The only place that knows both."""

from crownwright.service.jobfile.faults import with_lines
from crownwright.service.jobfile.reading import decode, parse_job, read_job, read_text
from crownwright.service.jobfile.writing import write_job, write_values

__all__ = ["decode", "parse_job", "read_job", "read_text", "with_lines", "write_job", "write_values"]
