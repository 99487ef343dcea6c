"""Writes the demo depot's papers and their SHA-256 into the records: python -m tests.models.documents [--check].

A paper that an approval names as evidence is bound by its hash. So run this only while the demo is being made;
`--check` says which papers would come out different and changes nothing.
"""

from __future__ import annotations

import argparse
import hashlib
import re
from pathlib import Path

from generator.geometry.weld import welded
from generator.reading.catalogue import read_catalogue
from generator.reading.meshes.load import load_mesh
from generator.records.approvals import TakenOver
from generator.records.catalogue import Catalogue, PartFolder
from generator.records.parts import Part
from tests.models.certificates import certificate_pdf, fire_report_pdf
from tests.models.drawing import draw_views
from tests.models.letters import demo_mark
from tests.models.paper import LANDSCAPE, MM, Paper, wrapped
from tests.models.part_papers import fire_note, paper_for
from tests.models.property_reports import property_report_pdf

CATALOGUE = Path(__file__).parents[2] / "catalogue"
LARGEST_BYTES = 40_000


def drawing_pdf(part: Part, material: str, model: Path, revision: str, drawn_on: str) -> bytes:
    """An A4 drawing sheet: three views, critical dimensions, title block."""
    paper = Paper(LANDSCAPE)
    loaded = load_mesh(model, part.mesh_units)
    paper.box(10 * MM, 8 * MM, 277 * MM, 194 * MM, width=1.4)
    scale = draw_views(paper, welded(loaded.mesh).mesh, (13, 10), (181, 190))
    _checks(paper, part)
    _title_block(paper, part, material, (revision, drawn_on, scale))
    demo_mark(paper, 284 * MM, 194 * MM)
    return paper.pdf(f"Drawing {part.number} revision {revision}")


def _checks(paper: Paper, part: Part) -> None:
    x, y = 197 * MM, 182 * MM
    paper.text(x, y, "Critical dimensions, mm", 10, bold=True)
    for check in part.checks:
        y -= 15
        paper.text(x, y, check.name, 9)
        size = f"{check.nominal_mm:g}  +{check.plus_mm:g} / -{check.minus_mm:g}"
        paper.text(285 * MM, y, size, 9, bold=True, align="right")
        paper.line(x, y - 4, 285 * MM, y - 4, width=0.3, grey=0.6)
    y -= 28
    paper.text(x, y, "Notes", 10, bold=True)
    settings = part.settings
    notes = [
        "Other dimensions: the model file is binding. General tolerance ISO 2768-m.",
        f"Orientation on the plate: {settings.orientation}.",
        *([f"After printing: {settings.after_print}."] if settings.after_print else []),
    ]
    for note in notes:
        for line in wrapped(note, 9, 88 * MM):
            y -= 13
            paper.text(x, y, line, 9)
        y -= 4


def _title_block(paper: Paper, part: Part, material: str, issue: tuple[str, str, float]) -> None:
    revision, drawn_on, scale = issue
    x, y, wide = 195 * MM, 8 * MM, 92 * MM
    paper.box(x, y, wide, 46 * MM, width=1.0)
    for up in (10, 20, 30):
        paper.line(x, y + up * MM, x + wide, y + up * MM, width=0.5)
    paper.line(x + 46 * MM, y, x + 46 * MM, y + 30 * MM, width=0.5)
    ratio = f"{scale:g}:1" if scale >= 1 else f"1:{1 / scale:g}"
    cells = [
        (0, 20, "Number", part.number), (46, 20, "Revision", revision),
        (0, 10, "Material", material), (46, 10, "Scale", f"{ratio}, first angle"),
        (0, 0, "Drawn by", "design engineer, vehicles"), (46, 0, "Date", drawn_on),
    ]  # fmt: skip
    paper.text(x + 3, y + 40.5 * MM, "Tarnvale Light Railway, Eastmere depot", 7.5, ink=(0.35, 0.37, 0.4))
    paper.text(x + 3, y + 32.5 * MM, part.name, 13, bold=True)
    for right, up, name, value in cells:
        paper.text(x + right * MM + 3, y + (up + 6.6) * MM, name, 6.5, ink=(0.35, 0.37, 0.4))
        paper.text(x + right * MM + 3, y + (up + 2) * MM, value, 10, bold=True)


def papers(catalogue: Catalogue) -> dict[str, bytes]:
    """Every paper of the demo by its path in the catalogue."""
    found: dict[str, bytes] = {}
    for material in catalogue.materials.values():
        for certificate in material.certificates:
            found[f"materials/{certificate.file}"] = certificate_pdf(material, certificate)
        for test in material.fire_tests:
            found[f"materials/{test.file}"] = fire_report_pdf(material, test)
        for file in dict.fromkeys(proof.file for proof in material.proof):
            proofs = [proof for proof in material.proof if proof.file == file]
            found[f"materials/{file}"] = property_report_pdf(material, proofs)
    for folder in catalogue.parts:
        found |= _part_papers(folder, catalogue)
    return found


def _part_papers(folder: PartFolder, catalogue: Catalogue) -> dict[str, bytes]:
    found: dict[str, bytes] = {}
    events = folder.approval.events if folder.approval else ()
    for event in events:
        for evidence in event.evidence:
            paper = paper_for(evidence.file, folder, event, catalogue)
            if paper:
                found[f"{folder.folder}/{evidence.file}"] = paper
    fire = folder.part.fire if folder.part else None
    if folder.part and fire and fire.evidence:
        found[f"{folder.folder}/{fire.evidence.file}"] = fire_note(folder.part, fire, catalogue)
    older = next((event.letter_of for event in events if isinstance(event, TakenOver)), None)
    if folder.part and folder.mesh and (older or len(events) > 1):
        model = CATALOGUE / folder.mesh.path
        material = catalogue.materials[folder.part.material].name
        drawn = next((e.on for e in events if e.what == "documents complete"), older or events[-1].on).isoformat()
        if folder.part.number == "TV-0136":
            found[f"{folder.folder}/documents/drawing-a.pdf"] = drawing_pdf(
                folder.part, material, model, "A", drawn
            )
            drawn = "2026-10-20"
        drawing = drawing_pdf(folder.part, material, model, folder.part.revision, drawn)
        found[f"{folder.folder}/documents/drawing.pdf"] = drawing
    return found


def with_hashes(text: str, folder: Path) -> str:
    """A record's text with the hash of every evidence file that lies in `folder` put in its place."""

    def replaced(match: re.Match[str]) -> str:
        file = folder / match["file"]
        digest = hashlib.sha256(file.read_bytes()).hexdigest() if file.exists() else match["old"]
        return f"{match['before']}{digest}"

    pattern = r"(?P<before>file: (?P<file>\S+)\n\s+sha256: \"?)(?P<old>[0-9a-f]{64})"
    return re.sub(pattern, replaced, text)


def write(found: dict[str, bytes]) -> None:
    for path, content in sorted(found.items()):
        file = CATALOGUE / path
        file.parent.mkdir(parents=True, exist_ok=True)
        file.write_bytes(content)
    for record in (*CATALOGUE.glob("materials/*.yml"), *CATALOGUE.glob("parts/*/approval.yml"), *CATALOGUE.glob("parts/*/part.yml")):
        text = record.read_text(encoding="utf-8")
        mended = with_hashes(text, record.parent)
        if mended != text:
            record.write_text(mended, encoding="utf-8", newline="\n")


def main(arguments: list[str] | None = None) -> int:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--check", action="store_true", help="only say which papers would change")
    options = parser.parse_args(arguments)
    found = papers(read_catalogue(CATALOGUE))
    large = [path for path, content in found.items() if len(content) > LARGEST_BYTES]
    for path in large:
        print(f"{path}: {len(found[path]):,} bytes, more than {LARGEST_BYTES:,}")
    if options.check:
        changed = [
            p for p, c in found.items() if not (CATALOGUE / p).exists() or (CATALOGUE / p).read_bytes() != c
        ]
        print("\n".join(f"{path}: would change" for path in sorted(changed)))
        return 1 if changed or large else 0
    write(found)
    print(f"{len(found)} papers, {sum(map(len, found.values())):,} bytes")
    return 1 if large else 0


if __name__ == "__main__":
    raise SystemExit(main())
