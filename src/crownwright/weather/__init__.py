"""Hours of weather, the sun and moist air."""
