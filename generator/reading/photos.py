"""A photo that came as text in a request file is made small, and rid of where and when it was taken."""

import base64
import binascii
import io

from PIL import Image, ImageOps

from generator.reading.kinds import MOST_PIXELS
from generator.records.problems import Problem, wrong

LONGEST_PX = 1280
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


def _drawn_anew(raw: bytes) -> bytes | Problem:
    with Image.open(io.BytesIO(raw), formats=["JPEG"]) as opened:
        if opened.width * opened.height > MOST_PIXELS:
            return wrong("REQ05", "too large", width=opened.width, height=opened.height)
        opened.draft("RGB", (2 * LONGEST_PX, 2 * LONGEST_PX))
        upright = ImageOps.exif_transpose(opened).convert("RGB")
    upright.thumbnail((LONGEST_PX, LONGEST_PX), Image.Resampling.LANCZOS)
    bare = Image.new("RGB", upright.size)
    bare.paste(upright)
    written = io.BytesIO()
    bare.save(written, "JPEG", quality=_QUALITY, optimize=True)
    return written.getvalue()
