"""What lies there, what is needed until more can come, and how many to order or print: pure arithmetic."""
