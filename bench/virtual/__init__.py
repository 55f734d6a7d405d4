"""Virtual chimneys: a known true shape, a mason who reads it with error, a plan from the readings alone, and the
plan built on the truth.
"""
