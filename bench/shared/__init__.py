"""What several benches share; no benches themselves."""
