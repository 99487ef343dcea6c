"""The page where a fitter says what went onto a vehicle and what came off it."""
