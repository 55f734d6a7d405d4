"""The job file: a job as a mason types it (TOML), and the same job in Python. The only place that knows both."""

from crownwright.service.jobfile.reading import parse_job, read_job
from crownwright.service.jobfile.writing import write_job

__all__ = ["parse_job", "read_job", "write_job"]
