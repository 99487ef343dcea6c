"""A photo that came as text in a request file is made small, and rid of where and when it was taken."""

import base64
import binascii
import io

from PIL import Image, ImageOps

from generator.reading.kinds import MOST_PIXELS

LONGEST_PX = 1280
_QUALITY = 82


class PhotoError(ValueError):
    """The text holds no photo that can be kept: says and mend."""

    def __init__(self, says: str, fix: str) -> None:
        super().__init__(says)
        self.says = says
        self.fix = fix

    def __reduce__(self) -> tuple[type["PhotoError"], tuple[str, str]]:
        return type(self), (self.says, self.fix)


def cleaned_photo(data: str) -> bytes | PhotoError:
    """JPEG bytes of at most 1280 px a side without any metadata, from base64 text; or why there are none.

    The picture is drawn anew from its dots, turned upright, so that nothing hidden in the file goes on.
    """
    try:
        raw = base64.b64decode("".join(data.split()), validate=True)
    except (binascii.Error, ValueError):
        return PhotoError("is no whole base64 text", "copy the file again, unchanged, or take photo_data out")
    if not raw.startswith(b"\xff\xd8\xff"):
        return PhotoError("is no JPEG picture", "make the request again with a photo, or take photo_data out")
    try:
        return _drawn_anew(raw)
    except (OSError, ValueError, SyntaxError, Image.DecompressionBombError):
        return PhotoError("is a JPEG that cannot be read", "take the photo again, or take photo_data out")


def _drawn_anew(raw: bytes) -> bytes | PhotoError:
    with Image.open(io.BytesIO(raw), formats=["JPEG"]) as opened:
        if opened.width * opened.height > MOST_PIXELS:
            says = f"is {opened.width} × {opened.height} px large"
            return PhotoError(says, "send a smaller picture, 1280 px are enough")
        opened.draft("RGB", (2 * LONGEST_PX, 2 * LONGEST_PX))
        upright = ImageOps.exif_transpose(opened).convert("RGB")
    upright.thumbnail((LONGEST_PX, LONGEST_PX), Image.Resampling.LANCZOS)
    bare = Image.new("RGB", upright.size)
    bare.paste(upright)
    written = io.BytesIO()
    bare.save(written, "JPEG", quality=_QUALITY, optimize=True)
    return written.getvalue()
