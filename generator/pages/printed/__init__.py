"""What was printed: a page for each batch, lot and machine, and one that lists them."""
