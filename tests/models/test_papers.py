"""Are the demo's papers sound PDF files, marked as invented, and are the drawings' lines where the solid's edges are?"""

import re
from itertools import pairwise
from math import hypot, pi
from pathlib import Path

import numpy as np
import pytest

from generator.geometry.mesh import Mesh
from tests.models.documents import CATALOGUE, LARGEST_BYTES, with_hashes
from tests.models.drawing import chosen_scale, view_lines
from tests.models.paper import BEND, Paper, joined, straightened, width_pt, wrapped

PDFS = sorted(CATALOGUE.glob("**/*.pdf"))


def box(x: float, y: float, z: float) -> Mesh:
    corners = np.array([(a * x, b * y, c * z) for a in (0, 1) for b in (0, 1) for c in (0, 1)], dtype=float)
    quads = [(0, 1, 3, 2), (4, 6, 7, 5), (0, 4, 5, 1), (2, 3, 7, 6), (0, 2, 6, 4), (1, 5, 7, 3)]
    faces = [tri for a, b, c, d in quads for tri in ((a, b, c), (a, c, d))]
    return Mesh(vertices_mm=corners, faces=np.array(faces))


def length_of(lines: np.ndarray) -> float:
    return float(np.hypot(lines[:, 2] - lines[:, 0], lines[:, 3] - lines[:, 1]).sum())


def beside(one: Mesh, other: Mesh, move: tuple[float, float, float]) -> Mesh:
    moved = other.vertices_mm + np.array(move)
    faces = np.concatenate((one.faces, other.faces + len(one.vertices_mm)))
    return Mesh(vertices_mm=np.concatenate((one.vertices_mm, moved)), faces=faces)


@pytest.mark.parametrize(("view", "wide", "high"), [("front", 30, 10), ("above", 30, 20), ("left", 20, 10)])
def test_a_box_shows_as_its_outline_however_its_faces_are_cut(view, wide, high):
    found = view_lines(box(30, 20, 10), view)
    assert (found.width, found.height) == pytest.approx((wide, high))
    corners = {tuple(end) for line in np.round(found.lines) for end in (line[:2], line[2:])}
    assert corners == {(0, 0), (wide, 0), (0, high), (wide, high)}


def test_what_stands_behind_is_hidden_and_what_stands_in_front_is_not():
    large, small = box(30, 20, 10), box(6, 6, 4)
    behind = view_lines(beside(large, small, (12, 30, 3)), "front")
    before = view_lines(beside(large, small, (12, -30, 3)), "front")
    assert not inner(behind.lines)
    # The small box's front face: two widths and two heights.
    assert length_of(np.unique(np.round(inner(before.lines), 1), axis=0)) == pytest.approx(20, abs=0.5)


def inner(lines: np.ndarray) -> list[np.ndarray]:
    """Lines whose middle lies well inside a 30 x 10 face."""
    middle = (lines[:, :2] + lines[:, 2:]) / 2
    return [line for line, (x, y) in zip(lines, middle, strict=True) if 1 < x < 29 and 1 < y < 9]


def test_scale_is_one_of_iso_5455_and_fits():
    assert chosen_scale((10, 10, 10), (180, 190)) == 5
    assert chosen_scale((90, 40, 50), (180, 190)) == 1
    assert chosen_scale((300, 200, 100), (180, 190)) == 0.2


def test_a_stroke_is_joined_and_stays_within_the_bend():
    count, radius = 180, 900
    ring = [
        (round(radius * np.cos(2 * pi * i / count)), round(radius * np.sin(2 * pi * i / count)))
        for i in range(count)
    ]
    pieces = [(*ring[i], *ring[(i + 1) % count]) for i in range(count)]
    strokes = joined(pieces)
    assert len(strokes) == 1
    kept = straightened(strokes[0])
    assert len(kept) < count
    for (ax, ay), (bx, by) in pairwise(kept):
        # sagitta of a chord c in a circle r is r - sqrt(r² - (c/2)²); 1.2 for the rounding of the ring itself
        sagitta = radius - (radius**2 - (hypot(bx - ax, by - ay) / 2) ** 2) ** 0.5
        assert sagitta <= BEND + 1.2


def test_wrapped_lines_keep_every_word_and_fit():
    text = "The part may be fitted to the vehicles named above, as a replacement for the original. " * 3
    lines = wrapped(text, 10, 200)
    assert " ".join(lines) == " ".join(text.split())
    assert all(width_pt(line, 10) <= 200 for line in lines)


def test_widths_are_those_of_helvetica():
    # Font metrics of Helvetica and Helvetica-Bold, from memory: W 944, i 222 and 278, space 278.
    assert width_pt("Wi ", 1000) == 944 + 222 + 278
    assert width_pt("Wi ", 1000, bold=True) == 944 + 278 + 278


def sound(content: bytes) -> bool:
    """Whether every entry of the cross-reference table points at its object (ISO 32000-1, 7.5.4)."""
    start = int(re.search(rb"startxref\n(\d+)\n%%EOF\n$", content)[1])
    if not content[start:].startswith(b"xref\n"):
        return False
    places = re.findall(rb"(\d{10}) 00000 n ", content[start:])
    return all(
        content[int(at) :].startswith(b"%d 0 obj" % number) for number, at in enumerate(places, start=1)
    )


def test_a_page_is_a_sound_pdf_and_the_same_each_time():
    def page() -> bytes:
        paper = Paper()
        paper.text(100, 100, "Ø12 ± 0.1 (bore)")
        paper.lines([(0, 0, 10, 10), (10, 10, 20, 0)], width=1)
        return paper.pdf("a (test)")

    assert page() == page()
    assert sound(page())
    assert not sound(page().replace(b"%PDF-1.4", b"%PDF-1.40"))


@pytest.mark.parametrize("file", PDFS, ids=lambda file: f"{file.parents[1].name[:8]} {file.stem}")
def test_every_paper_is_sound_small_and_marked(file: Path):
    content = file.read_bytes()
    assert sound(content)
    assert len(content) <= LARGEST_BYTES
    assert b"DEMO - invented" in content


def test_hashes_are_put_beside_their_files(tmp_path):
    (tmp_path / "documents").mkdir()
    (tmp_path / "documents" / "a.pdf").write_bytes(b"abc")
    text = f'evidence:\n  - file: documents/a.pdf\n    sha256: "{"0" * 64}"\n  - file: documents/b.pdf\n    sha256: "{"1" * 64}"\n'
    mended = with_hashes(text, tmp_path)
    # SHA-256 of "abc": FIPS 180-4, the example of one block.
    assert "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad" in mended
    assert "1" * 64 in mended
