"""The cap in the weather: heat, setting, strength, and the days to pour."""
