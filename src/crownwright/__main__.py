"""``python -m crownwright`` is the command line."""

from crownwright.cli.main import run

raise SystemExit(run())
