"""Photos that go on paper: small, upright, without where and when they were taken, and the same bytes each time."""

import io

import pytest
from PIL import Image

from generator.reading.photos import ON_PAPER_PX, photo_on_paper

GPS, MADE_BY, ORIENTATION = 0x8825, 0x010F, 0x0112


def written(picture, kind="JPEG", **options):
    out = io.BytesIO()
    picture.save(out, kind, **options)
    return out.getvalue()


def with_position(size=(1600, 1200), kind="JPEG"):
    """Left half black, with a position and a camera, lying on its side."""
    picture = Image.new("RGB", size, "white")
    picture.paste("black", (0, 0, size[0] // 2, size[1]))
    exif = Image.Exif()
    exif[MADE_BY], exif[ORIENTATION] = "A camera of somebody", 6
    exif[GPS] = {1: "N", 2: (54.0, 30.0, 0.0), 3: "E", 4: (9.0, 15.0, 0.0)}
    return written(picture, kind, exif=exif.tobytes())


@pytest.mark.parametrize("kind", ["JPEG", "PNG", "WEBP"])
def test_a_photo_loses_its_position_and_stands_upright(kind):
    raw = with_position(kind=kind)
    assert GPS in Image.open(io.BytesIO(raw)).getexif()
    found = photo_on_paper(raw)
    drawn = Image.open(io.BytesIO(found))
    assert (drawn.format, drawn.mode, dict(drawn.getexif()), drawn.info.get("exif")) == ("JPEG", "RGB", {}, None)
    assert b"camera" not in found
    assert drawn.size == (ON_PAPER_PX * 3 // 4, ON_PAPER_PX)  # a quarter turned (orientation 6)
    top, bottom = (drawn.getpixel((drawn.width // 2, y))[0] for y in (20, drawn.height - 20))
    assert (top < 40, bottom > 215) == (True, True)
    assert photo_on_paper(raw) == found


def test_what_is_seen_through_is_white_on_paper():
    found = photo_on_paper(written(Image.new("RGBA", (50, 50), (0, 0, 0, 0)), "PNG"))
    assert Image.open(io.BytesIO(found)).getpixel((25, 25)) == (255, 255, 255)


@pytest.mark.parametrize("raw", [b"", b"\xff\xd8\xff", with_position()[:5000], b"GIF89a" + bytes(100), b"%PDF-1.7", written(Image.new("L", (8000, 8000)), "PNG")])
def test_what_cannot_be_drawn_is_none(raw):
    assert photo_on_paper(raw) is None
