"""How long printed pieces hold, and the pieces that are held beside them."""
