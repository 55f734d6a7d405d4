"""plan_job: the one sequence."""
