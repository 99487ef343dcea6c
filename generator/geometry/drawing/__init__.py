"""How a part looks on paper: its edges and outlines in orthographic views, hidden lines removed."""
