"""The pages, one module each: a ``router``, and ``SHEETS`` where it belongs to the sheets of a job."""
