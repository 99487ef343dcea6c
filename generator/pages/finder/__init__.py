"""What the finder knows: the records, and how people ask."""
