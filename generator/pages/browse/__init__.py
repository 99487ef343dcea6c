"""The ways in: home, vehicles and places, stages, and what is wrong with the catalogue."""
