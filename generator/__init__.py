"""Part folders in, a printable-parts catalogue out."""
