"""A photo from outside, or one that goes on paper, is made small, and rid of where and when it was taken."""

import base64
import binascii
import io

from PIL import Image, ImageOps

from generator.reading.pictures import MOST_PIXELS
from generator.records.problems import Problem, wrong

LONGEST_PX = 1280
ON_PAPER_PX = 900
"""300 dots an inch on the third of a page that a photo gets, and a little more."""
_QUALITY = 82


def cleaned_photo(data: str) -> bytes | Problem:
    """JPEG bytes of at most 1280 px a side without any metadata, from base64 text; or why there are none.

    The picture is drawn anew from its dots, turned upright, so that nothing hidden in the file goes on.
    """
    try:
        raw = base64.b64decode("".join(data.split()), validate=True)
    except (binascii.Error, ValueError):
        return wrong("REQ05", "no base64")
    if not raw.startswith(b"\xff\xd8\xff"):
        return wrong("REQ05", "no JPEG")
    try:
        return _drawn_anew(raw)
    except (OSError, ValueError, SyntaxError, Image.DecompressionBombError):
        return wrong("REQ05", "unreadable")


def photo_on_paper(raw: bytes) -> bytes | None:
    """JPEG bytes of at most ON_PAPER_PX a side without any metadata, of a JPEG, PNG or WebP; None of what cannot be drawn. The same bytes each time."""
    try:
        found = _drawn_anew(raw, ON_PAPER_PX, ("JPEG", "PNG", "WEBP"))
    except (OSError, ValueError, SyntaxError, Image.DecompressionBombError):
        return None
    return found if isinstance(found, bytes) else None


def _drawn_anew(raw: bytes, longest: int = LONGEST_PX, formats: tuple[str, ...] = ("JPEG",)) -> bytes | Problem:
    with Image.open(io.BytesIO(raw), formats=formats) as opened:
        if opened.width * opened.height > MOST_PIXELS:
            return wrong("REQ05", "too large", width=opened.width, height=opened.height)
        opened.draft("RGB", (2 * longest, 2 * longest))
        upright = _on_white(ImageOps.exif_transpose(opened))
    upright.thumbnail((longest, longest), Image.Resampling.LANCZOS)
    bare = Image.new("RGB", upright.size)
    bare.paste(upright)
    written = io.BytesIO()
    bare.save(written, "JPEG", quality=_QUALITY, optimize=True)
    return written.getvalue()


def _on_white(picture: Image.Image) -> Image.Image:
    """What can be seen through becomes white, as paper is."""
    if not picture.has_transparency_data:
        return picture.convert("RGB")
    under = Image.new("RGBA", picture.size, "white")
    return Image.alpha_composite(under, picture.convert("RGBA")).convert("RGB")
