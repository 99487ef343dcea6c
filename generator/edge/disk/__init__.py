"""Files and folders are written whole or not at all, by one command at a time."""
