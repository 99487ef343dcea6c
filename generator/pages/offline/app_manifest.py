"""How the catalogue stands on a tablet's home screen: the web app manifest and its icons."""

import json
from collections.abc import Callable, Iterator, Mapping
from typing import Any

from generator.geometry.measured import Kept
from generator.pages.outputs import Asset
from generator.pages.wording import Wording
from generator.records.depot import Depot
from generator.rules.sheet import Sheet
from generator.rules.verdicts import Verdict

MANIFEST = "manifest.webmanifest"
_FOLDER = "assets/icons"
_TOUCH = "touch-180.png"
TOUCH_ICON = f"{_FOLDER}/{_TOUCH}"
# The colours of the header and the paper in assets/css/base.css.
THEME_COLOUR = "#16323f"
PAPER = "#eef1f2"
Icons = Callable[[Kept, tuple[tuple[str, int, bool], ...]], Mapping[str, bytes]]
"""From a part's front picture, and the file name, side in px and whether it may be cut round of each icon wanted, to
PNG bytes by file name."""
ICONS = (
    ("icon-192.png", 192, "any"),
    ("icon-512.png", 512, "any"),
    ("maskable-512.png", 512, "maskable"),
    (_TOUCH, 180, None),
)
"""Every icon: file name, side in px, and its purpose in the manifest; None stays out of it."""


def app_assets(depot: Depot, sheets: tuple[Sheet, ...], w: Wording, icons: Icons) -> Iterator[Asset]:
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
        wanted = tuple((name, side, purpose == "maskable") for name, side, purpose in ICONS)
        for name, drawn in icons(shown.pictures.front, wanted).items():
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
