"""What changed lately, told by the commits of the catalogue, or by the days in its records."""
