"""Binds the demo's approvals and submissions to the demo's files: fills `approved_as: PENDING` of approval.yml.

Run as `python -m tests.models.bind` after the meshes are made; `--again` also renews what is bound already,
for when the models themselves were changed. A depot never does this: it records a new approval.
"""

import argparse
import hashlib
import re
import subprocess
import sys
from collections.abc import Iterable
from datetime import UTC, date, datetime
from pathlib import Path

from generator.provenance.remembering.kept import FILE, memory_file
from generator.reading.catalogue import read_catalogue
from generator.records.approvals import Approved, TakenOver, TakeOverConfirmed, TrialOpened
from generator.records.catalogue import Catalogue, PartFolder
from generator.records.materials import Material
from generator.records.parts import Part
from generator.rules.binding import approved_text, beside_of, sites_of
from generator.rules.canonical import fingerprint
from generator.rules.chain import own_fingerprint
from generator.rules.fingerprint import canonical_text
from generator.writing.yaml_text import mapping_lines
from tests.fixtures.bind import before
from tests.fixtures.submitting import with_submissions

CATALOGUE = Path(__file__).parents[2] / "catalogue"
BOUND = re.compile(
    r"^(?P<indent> +)approved_as: (?P<text>PENDING|\|\n(?:(?P=indent) +\S.*\n)+?)\s*?"
    r"(?P=indent)fingerprint: \"?[0-9a-f]{64}\"?\n",
    re.MULTILINE,
)

# TV-0136 was approved as revision A, printed in thicker layers and from an older model: it shows a part that
# was changed after its approval.
OLDER_LAYER_MM = {"TV-0136": 0.3}


def bound(root: Path, *, again: bool) -> list[str]:
    """Bind every placeholder below `root`; returns the numbers of the parts whose record was changed."""
    catalogue = read_catalogue(root)
    changed = []
    for folder in catalogue.parts:
        file = root / folder.folder / "approval.yml"
        before = file.read_text(encoding="utf-8") if file.exists() else ""
        after = _bound_text(before, folder, catalogue, again=again)
        after = _submitted(after, folder, catalogue, again=again)
        after = _confirmed(after, folder)
        if after != before:
            file.write_text(after, encoding="utf-8", newline="\n")
            changed.append(folder.number)
    return changed


def _bound_text(text: str, folder: PartFolder, catalogue: Catalogue, *, again: bool) -> str:
    events = folder.approval.events if folder.approval else ()
    permits = iter([(index, event) for index, event in enumerate(events) if isinstance(event, Approved | TrialOpened | TakeOverConfirmed)])

    def filled(found: re.Match[str]) -> str:
        index, permit = next(permits)
        if found["text"] != "PENDING" and not again:
            return found[0]
        bound_text = _approved_text(before(folder, index), index, permit, catalogue)
        lines = mapping_lines(
            {"approved_as": bound_text, "fingerprint": fingerprint(bound_text)}, found["indent"]
        )
        return "\n".join(lines) + "\n"

    return BOUND.sub(filled, text)


def _confirmed(text: str, folder: PartFolder) -> str:
    """Each confirmation names what the letter's event says now; of the demo's parts each has one such letter."""
    taken = next((each for each in (folder.approval.events if folder.approval else ()) if isinstance(each, TakenOver)), None)
    return re.sub(r'(?<=confirms: ")[0-9a-f]{64}', own_fingerprint(taken), text) if taken else text


def _submitted(text: str, folder: PartFolder, catalogue: Catalogue, *, again: bool) -> str:
    """What each submission submitted: the part at every place that it fits, with the papers that came with it."""
    part = folder.part
    if part is None:
        return text

    def text_of(revision: str, index: int) -> str:
        sites = [(fit.fleet, fit.place) for fit in part.fits]
        return _text_of(before(folder, index + 1), index, sites, catalogue, revision, folder.approval.events[index].on)

    return with_submissions(text, folder.approval, part.revision, text_of, again=again)


def _approved_text(folder: PartFolder, index: int, permit: Approved | TrialOpened | TakeOverConfirmed, catalogue: Catalogue) -> str:
    """What was approved: the part as it is, or as it was at an earlier revision."""
    events = folder.approval.events if folder.approval else ()
    scope = next((each.scope for each in events if isinstance(each, TakenOver)), ()) if isinstance(permit, TakeOverConfirmed) else permit.scope
    return _text_of(folder, index, sites_of(scope), catalogue, permit.revision, permit.on)


def _text_of(
    folder: PartFolder, index: int, sites: Iterable[tuple[str, str]], catalogue: Catalogue, revision: str, day: date
) -> str:
    part, mesh = folder.part, folder.mesh
    if part is None or mesh is None:
        raise SystemExit(f"{folder.folder}: part.yml or the model cannot be read; run `spares check`")
    sha256 = mesh.sha256
    if revision != part.revision:
        part = _as_it_was(part, revision)
        sha256 = hashlib.sha256(f"{part.number} revision {revision}".encode()).hexdigest()
    beside, material = beside_of(folder, index), _known_on(day, catalogue.materials[part.material])
    text = canonical_text(part, material, catalogue.makers.values(), sha256, beside)
    return approved_text(text, sites, catalogue, part)


def _known_on(day: date, material: Material) -> Material:
    """The material without certificates that came later; where there was none yet, the demo lets the first one pass."""
    first = min((each.issued_on for each in material.certificates), default=day)
    known = tuple(each for each in material.certificates if each.issued_on <= max(day, first))
    return material.model_copy(update={"certificates": known})


def _as_it_was(part: Part, revision: str) -> Part:
    layer_mm = OLDER_LAYER_MM.get(part.number, part.settings.layer_mm)
    settings = part.settings.model_copy(update={"layer_mm": layer_mm})
    return part.model_copy(update={"revision": revision, "settings": settings})


def forgotten(root: Path) -> None:
    """What git, the store and a built site remember of the demo as it was bound before. No depot forgets."""
    depot = root / "depot.yml"
    newest = subprocess.run(["git", "log", "-1", "--format=%ct"], cwd=root, capture_output=True, check=True, text=True)
    day = datetime.fromtimestamp(int(newest.stdout), UTC).date()
    since = re.sub(r"(?<=records_kept_since: \{day: )[0-9-]+", str(day), depot.read_text(encoding="utf-8"))
    depot.write_text(since, encoding="utf-8", newline="\n")
    memory_file(root.parent / ".store", root).unlink(missing_ok=True)
    (root.parent / "site" / FILE).unlink(missing_ok=True)


def main() -> None:
    parser = argparse.ArgumentParser(
        description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter
    )
    parser.add_argument("--catalogue", type=Path, default=CATALOGUE)
    parser.add_argument("--again", action="store_true", help="renew what is bound already")
    options = parser.parse_args()
    numbers = bound(options.catalogue, again=options.again)
    if options.again and numbers:
        forgotten(options.catalogue)
    sys.stdout.write(f"bound: {', '.join(numbers) or 'nothing to do'}\n")


if __name__ == "__main__":
    main()
