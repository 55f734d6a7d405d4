"""Drawings and papers."""
