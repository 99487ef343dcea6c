"""A PDF as a reader has it: its text by poppler's pdftotext, its pages as they come out of a printer by pdftoppm."""

import io
import re
import subprocess
from dataclasses import dataclass

import numpy as np
import zxingcpp
from PIL import Image, ImageFilter


def text_of(pdf: bytes) -> str:
    """As the pages show it, without the marks for reading directions that poppler adds."""
    run = subprocess.run(["pdftotext", "-layout", "-", "-"], input=pdf, capture_output=True, check=True)
    return re.sub("[\u200b\u200e\u200f\u202a-\u202e]", "", run.stdout.decode("utf-8"))


def words_of(pdf: bytes) -> list[tuple[float, float, str]]:
    """Each word with its left and upper edge in mm, page upon page; the pages' heights are not added up."""
    run = subprocess.run(["pdftotext", "-bbox", "-", "-"], input=pdf, capture_output=True, check=True)
    found = re.findall(r'<word xMin="([0-9.]+)" yMin="([0-9.]+)"[^>]*>([^<]*)</word>', run.stdout.decode("utf-8"))
    return [(float(x) * 25.4 / 72, float(y) * 25.4 / 72, word) for x, y, word in found]


def page_count(pdf: bytes) -> int:
    return int(re.search(r"Pages: +([0-9]+)", told(pdf))[1])


def told(pdf: bytes) -> str:
    return subprocess.run(["pdfinfo", "-"], input=pdf, capture_output=True, check=True).stdout.decode("utf-8")


def page(pdf: bytes, dpi: float, number: int = 1) -> Image.Image:
    """In grey, as a printer of so many dots an inch sees it."""
    where = ["-f", str(number), "-l", str(number)]
    run = subprocess.run(["pdftoppm", "-gray", "-r", str(dpi), *where, "-"], input=pdf, capture_output=True, check=True)
    return Image.open(io.BytesIO(run.stdout)).convert("L")


@dataclass(frozen=True)
class Read:
    text: str
    left: int
    top: int
    width: int


def codes_on(image: Image.Image) -> list[Read]:
    """Every QR code that is read on a page, row by row."""
    found = []
    for each in zxingcpp.read_barcodes(image, formats=zxingcpp.BarcodeFormat.QRCode):
        corner, right = each.position.top_left, each.position.top_right
        found.append(Read(each.text, corner.x, corner.y, right.x - corner.x))
    return sorted(found, key=lambda each: (round(each.top / 10), each.left))


def read_in_a_dirty_bag(image: Image.Image, dpi: float) -> set[str]:
    """What a phone reads of a print of black dots that is moved before it: from 8, 16 and 24 of its own dots a millimetre."""
    printed = image.point(lambda grey: 255 * (grey >= 128))
    looks = (codes_on(in_a_dirty_bag(printed, dots / (dpi / 25.4), dots)) for dots in (8, 16, 24))
    return {read.text for read in next(filter(None, looks), [])}


def in_a_dirty_bag(image: Image.Image, scale: float, dots_mm: int) -> Image.Image:
    """Scratched film and oil: blurred by an eighth of a millimetre, 60 % of the contrast, and noise (by eye, no source)."""
    seen = image.resize([round(each * scale) for each in image.size], Image.Resampling.BILINEAR)
    blurred = np.asarray(seen.filter(ImageFilter.GaussianBlur(dots_mm / 8)), float)
    noise = np.random.default_rng(417).normal(0, 20, blurred.shape)
    return Image.fromarray(np.clip(50 + 0.6 * blurred + noise, 0, 255).astype(np.uint8))
