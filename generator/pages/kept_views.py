"""Which views were kept of a mesh: read once for the sheet and the silhouettes, which are written one after the other."""

import json
from functools import lru_cache

from generator.geometry.drawing.kinds import Views
from generator.geometry.measured import Kept

__all__ = ["views_of"]


@lru_cache(maxsize=2)
def views_of(kept: Kept) -> Views:
    """Equal keys mean equal bytes, so only a few are held: the next part's come when this one's are written."""
    return Views.from_json(json.loads(kept.read()))
