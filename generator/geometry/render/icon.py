"""A part's picture as the square icon of the catalogue."""

import io

import numpy as np
from PIL import Image

# A maskable icon is cut to any shape inside which a circle of 80 % of its width stays (W3C Web App Manifest).
SAFE = 0.8
PLAIN_MARGIN = 0.06


def icon(picture: bytes, size_px: int, *, maskable: bool = False) -> bytes:
    """PNG bytes, size_px square: the part of a drawn picture, on the picture's own ground.

    picture: encoded image with one colour at its rim, such as `picture()` draws it; its upper left pixel is that
    colour. maskable: the part stays inside the safe circle. The same input gives the same bytes.
    """
    with Image.open(io.BytesIO(picture)) as opened:
        drawn = opened.convert("RGB")
    left, upper, right, lower = _outline(drawn)
    side = float(
        np.hypot(right - left, lower - upper) / SAFE if maskable else _square(left, upper, right, lower)
    )
    centre = ((left + right) / 2, (upper + lower) / 2)
    cut = (centre[0] - side / 2, centre[1] - side / 2, centre[0] + side / 2, centre[1] + side / 2)
    whole = Image.new("RGB", (round(side), round(side)), drawn.getpixel((0, 0)))
    whole.paste(drawn, (-round(cut[0]), -round(cut[1])))
    written = io.BytesIO()
    whole.resize((size_px, size_px), Image.Resampling.LANCZOS).save(written, "PNG", optimize=True)
    return written.getvalue()


def _square(left: int, upper: int, right: int, lower: int) -> float:
    return max(right - left, lower - upper) / (1 - 2 * PLAIN_MARGIN)


def _outline(drawn: Image.Image) -> tuple[int, int, int, int]:
    """The box around what is darker than the ground; its soft shadow does not count."""
    pixels = np.asarray(drawn, dtype=np.int16)
    darker = (pixels[0, 0] - pixels).max(axis=2) > 40
    rows, columns = np.flatnonzero(darker.any(axis=1)), np.flatnonzero(darker.any(axis=0))
    if not rows.size:
        return (0, 0, drawn.width, drawn.height)
    return int(columns[0]), int(rows[0]), int(columns[-1]) + 1, int(rows[-1]) + 1
