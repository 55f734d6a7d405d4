"""The drawings of a plan, one function each: `plan -> Drawing`."""
