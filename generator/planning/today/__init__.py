"""What the specialist does next: tasks from the records, in which order, by when, and what fits into the time there is."""
