"""Which icons has the catalogue on a home screen, from the store or drawn anew?"""

from generator.geometry.measured import Kept
from generator.measuring.code import code_of
from generator.systems.store import Blobs, Store, key_of

Wanted = tuple[tuple[str, int, bool], ...]
"""File name, side in px, and whether the icon may be cut round."""


def kept_icons(store: Store, front: Kept, wanted: Wanted) -> Blobs:
    """The icons cut from a part's front picture, PNG bytes by file name; those of one picture are drawn once."""
    key = key_of("icons", repr(wanted), code_of("generator.geometry.render.icon"), front.key)
    kept = store.get(key)
    if kept is None:
        kept = drawn_icons(front.read(), wanted)
        store.put(key, kept)
    return kept


def drawn_icons(front: bytes, wanted: Wanted) -> dict[str, bytes]:
    """The same, drawn."""
    # What draws is imported where it is used: a build that finds its icons kept pays for none of it.
    from generator.geometry.render.icon import icon  # noqa: PLC0415

    return {name: icon(front, side_px, maskable=maskable) for name, side_px, maskable in wanted}
