"""The machines that print, and whether they stay as they were."""
