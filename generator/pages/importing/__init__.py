"""What is said of a list of parts that is taken in; the words alone, no page."""
