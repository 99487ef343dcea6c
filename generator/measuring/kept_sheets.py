"""What does the drawing of a part look like, from the store or drawn anew?"""

from collections.abc import Callable, Sequence

from generator.measuring.code import code_of
from generator.systems.store import Blobs, Store, key_of


def kept_sheet(store: Store, inputs: Sequence[str], draw: Callable[[], Blobs]) -> Blobs:
    """The files of a drawing. inputs: all that they are drawn from, but for the code."""
    key = key_of("sheet", code_of("generator.pages.drawing.page"), *inputs)
    kept = store.get(key)
    if kept is None:
        kept = draw()
        store.put(key, kept)
    return kept
