"""What printing saves: on pieces that were fitted, else expected of a year; and what it took to get there. Money in decimals."""
