"""What changed lately, told by the commits of the catalogue."""
