"""Records → the YAML text that people go on editing; no disk."""
