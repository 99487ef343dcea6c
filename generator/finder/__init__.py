"""The finder's own scripts, run from Python."""
