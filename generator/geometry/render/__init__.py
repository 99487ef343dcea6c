"""How a part is drawn: shading, ground, lines, put together in `picture`."""
