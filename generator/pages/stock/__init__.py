"""What to order or print now: a page, the chart on it, orders as text, and the same words for `spares stock`."""
