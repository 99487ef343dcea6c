"""What printing has saved: a page, its chart and table, and the same words for `spares savings`."""
