"""How the catalogue stands on a tablet's home screen: the web app manifest and its icons."""

import json
from collections.abc import Callable, Iterator, Mapping
from typing import Any

from generator.pages.outputs import Asset
from generator.pages.wording import Wording
from generator.records.depot import Depot
from generator.rules.verdicts import Verdict
from generator.sheets import Sheet

MANIFEST = "manifest.webmanifest"
_FOLDER = "assets/icons"
_TOUCH = "touch-180.png"
TOUCH_ICON = f"{_FOLDER}/{_TOUCH}"
# The colours of the header and the paper in assets/css/base.css.
THEME_COLOUR = "#16323f"
PAPER = "#eef1f2"
Icons = Callable[[bytes], Mapping[str, bytes]]
"""From a part's front picture to the icons by file name, such as `drawn_icons`, or one that keeps what it drew."""
ICONS = (
    ("icon-192.png", 192, "any"),
    ("icon-512.png", 512, "any"),
    ("maskable-512.png", 512, "maskable"),
    (_TOUCH, 180, None),
)
"""Every icon: file name, side in px, and its purpose in the manifest; None stays out of it."""


def drawn_icons(front: bytes) -> dict[str, bytes]:
    """PNG bytes by file name: all of `ICONS`, cut from a part's front picture."""
    # What draws is imported where it is used: a build that finds its icons kept pays for none of it.
    from generator.geometry.render.icon import icon  # noqa: PLC0415

    return {name: icon(front, side, maskable=purpose == "maskable") for name, side, purpose in ICONS}


def app_assets(
    depot: Depot, sheets: tuple[Sheet, ...], w: Wording, icons: Icons = drawn_icons
) -> Iterator[Asset]:
    """manifest.webmanifest (W3C Web Application Manifest) and the icons that it names."""
    shown = pictured(sheets)
    manifest: dict[str, Any] = {
        "id": "./index.html",
        "name": f"{w('theme.site')}, {depot.depot}",
        "short_name": w("theme.short"),
        "description": w("home.heading"),
        "lang": w.language,
        "start_url": "./index.html",
        "scope": "./",
        "display": "standalone",
        "background_color": PAPER,
        "theme_color": THEME_COLOUR,
        "icons": [],
    }
    if shown and shown.pictures:
        manifest["icons"] = [
            {
                "src": f"{_FOLDER}/{name}",
                "sizes": f"{side}x{side}",
                "type": "image/png",
                "purpose": purpose,
            }
            for name, side, purpose in ICONS
            if purpose
        ]
        for name, drawn in icons(shown.pictures.front).items():
            yield Asset(path=f"{_FOLDER}/{name}", content=drawn)
    text = json.dumps(manifest, ensure_ascii=False, indent=1) + "\n"
    yield Asset(path=MANIFEST, content=text.encode("utf-8"))


def pictured(sheets: tuple[Sheet, ...]) -> Sheet | None:
    """The part on the icon: one that may be fitted rather than not, and of these the one nearest to a cube."""
    drawn = [sheet for sheet in sheets if sheet.pictures and sheet.mesh]
    return min(
        drawn,
        key=lambda sheet: (sheet.best is not Verdict.FIT_IT, -_roundness(sheet), sheet.number),
        default=None,
    )


def _roundness(sheet: Sheet) -> float:
    sides = sheet.mesh.oriented_size_mm if sheet.mesh else (1.0, 0.0, 0.0)
    return min(sides) / max(sides) if max(sides) > 0 else 0.0
