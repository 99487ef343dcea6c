"""Which icons has the catalogue on a home screen, from the store or drawn anew?"""

from generator.pages.app_manifest import ICONS, drawn_icons
from generator.store import Store, code_version, key_of


def kept_icons(store: Store, front: bytes) -> dict[str, bytes]:
    """The icons made of a part's front picture, PNG bytes by file name; those of one picture are drawn once."""
    key = key_of("icons", repr(ICONS), code_version(), front)
    kept = store.get(key)
    if kept is None:
        kept = drawn_icons(front)
        store.put(key, kept)
    return kept
