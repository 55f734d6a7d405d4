"""Bags, mix, batches, lifts."""
