"""The README's screenshots, taken from the demo: `python -m tests.browser.screenshots`."""

import io
import tempfile
from pathlib import Path

from PIL import Image
from playwright.sync_api import sync_playwright

from generator.edge.cli import main as spares
from tests.conftest import CHROMIUM, SWITCHES

ROOT = Path(__file__).parents[2]
SHOTS = ROOT / "site_src/assets/screenshots"
# name: address in the site, size of the tablet, and what stands in the finder's box
VIEWS = {
    "part": ("parts/TV-0417.html", (1280, 800)),
    "finder": ("index.html?q=knob%20tr4%2035", (800, 1000)),
    "place": ("vehicles/TR4/at-cab.html", (800, 1000)),
}


def main() -> int:
    SHOTS.mkdir(exist_ok=True)
    with tempfile.TemporaryDirectory() as folder, sync_playwright() as playwright:
        site = Path(folder) / "site"
        code = spares(["build", "--site", str(site)])
        if code:
            return code
        browser = playwright.chromium.launch(
            executable_path=CHROMIUM, args=SWITCHES
        )
        for name, (address, (width, height)) in VIEWS.items():
            page = browser.new_page(viewport={"width": width, "height": height}, color_scheme="light")
            page.goto(f"{site.as_uri()}/{address}")
            page.wait_for_timeout(800)
            picture = Image.open(io.BytesIO(page.screenshot())).convert("RGB")
            picture.quantize(256, dither=Image.Dither.NONE).save(SHOTS / f"{name}.png", optimize=True)
            page.close()
        browser.close()
    return 0


if __name__ == "__main__":
    raise SystemExit(main())
