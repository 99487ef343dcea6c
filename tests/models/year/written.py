"""The year as files of the catalogue."""

from __future__ import annotations

import csv
import hashlib
import io
import re
import shutil
from datetime import date, datetime, timedelta
from pathlib import Path
from random import Random

from generator.records.catalogue import Catalogue
from generator.records.fitted import COLUMNS
from generator.rules.binding import part_text
from generator.rules.canonical import fingerprint
from generator.rules.history import history
from generator.rules.production.printed import printed_text
from generator.writing.yaml_text import mapping_lines
from tests.models.letters import Letter, letter_pdf
from tests.models.year.prints import Run
from tests.models.year.scene import (
    BEGINS,
    CALLED_BACK,
    CALLED_BACK_ON,
    DRYING,
    ENDS,
    LOTS,
    MACHINES,
    STRENGTH,
    WORN_NOZZLE,
)
from tests.models.year.vehicles import Fleet

FOLDERS = ("materials/lots", "machines", "batches", "recalls", "fitted")
_GROUP = 5


def cleared(root: Path) -> None:
    for folder in FOLDERS:
        shutil.rmtree(root / folder, ignore_errors=True)


def plain(value: object) -> object:
    """A record's value as the YAML writer takes it."""
    if isinstance(value, datetime):
        return value.strftime("%Y-%m-%d %H:%M")
    if isinstance(value, date):
        return value.isoformat()
    if isinstance(value, dict):
        return {key: plain(each) for key, each in value.items()}
    return [plain(each) for each in value] if isinstance(value, list) else value


def record(file: Path, head: str, content: dict[str, object]) -> None:
    file.parent.mkdir(parents=True, exist_ok=True)
    lines = mapping_lines(plain(content))
    file.write_text("".join(f"# {line}\n" for line in head.split("\n")) + "\n".join(lines) + "\n", encoding="utf-8", newline="\n")


def kept(file: Path, content: bytes) -> str:
    """Writes a file beside the records and tells its SHA-256."""
    file.parent.mkdir(parents=True, exist_ok=True)
    file.write_bytes(content)
    return hashlib.sha256(content).hexdigest()


def lots(root: Path, catalogue: Catalogue, runs: list[Run]) -> None:
    for name, lot in LOTS.items():
        material = catalogue.materials[lot.material]
        reference = f"{'IC' if lot.type == '3.1' else 'TR'} {lot.received:%y}-{1000 + int(name[2:]) * 37}"
        issued = lot.received - timedelta(days=6)
        paper = _lot_paper(material.name, lot.type, lot.supplier_lot, reference, issued)
        digest = kept(root / f"materials/lots/documents/{name}.pdf", paper)
        used = sorted(run.started.date() for run in runs if name in run.lots)
        events: list[dict[str, object]] = [{"what": "received", "on": lot.received, "by": "stores", "grams": lot.grams}]
        if used:
            events.append({"what": "opened", "on": used[0] - timedelta(days=1), "by": "am-specialist"})
            if lot.material in DRYING:
                hours, celsius = DRYING[lot.material]
                days = sorted({each - timedelta(days=1) for each in used})[::3]
                events += [{"what": "dried", "on": day, "by": "am-specialist", "hours": hours, "celsius": celsius} for day in days]
        record(
            root / f"materials/lots/{name}.yml",
            f"{material.name}, lot {lot.supplier_lot} of the supplier.",
            {
                "material": lot.material,
                "supplier_lot": lot.supplier_lot,
                **({"use_by": lot.use_by} if lot.use_by else {}),
                "inspection_documents": [
                    {"type": lot.type, "lot": lot.supplier_lot, "reference": reference, "issued_on": issued, "file": f"documents/{name}.pdf", "sha256": digest}
                ],
                "events": events,
            },
        )


def _lot_paper(material: str, kind: str, lot: str, reference: str, issued: date) -> bytes:
    said = "Inspection certificate 3.1" if kind == "3.1" else "Test report 2.2"
    return letter_pdf(
        Letter(
            house="Maker of the material (invented)",
            title=f"{said} - {material}",
            rows=[("Reference", reference), ("Date", issued.isoformat()), ("Material", material), ("Lot", lot), ("Kind", f"EN 10204:2004, type {kind}, used for plastics by analogy")],
            paragraphs=(f"We confirm that what was delivered as lot {lot} is as ordered.",),
            signed=f"Inspection, {issued.isoformat()}",
            stamp=f"TYPE {kind}",
        )
    )


def machines(root: Path, chance: Random) -> None:
    for name, (called, maker, materials) in MACHINES.items():
        found = [each for material in materials for each in _qualifications(root, name, material, chance)]
        record(root / f"machines/{name}.yml", f"{called}: what it is qualified for, by coupons that were printed on it.", {"name": called, "maker": maker, "qualifications": found})


def _qualifications(root: Path, machine: str, material: str, chance: Random) -> list[dict[str, object]]:
    bench, of, worn, anew = WORN_NOZZLE
    is_worn = (machine, material) == (bench, of)
    settings = f"machines/documents/{machine}-{material}.txt"
    layer = "0.12" if machine.startswith("sinter") else "0.2"
    text = f"machine {machine}\nmaterial {material}\nlayer_mm {layer}\ninvented for the demo: a depot keeps the file that its machine was run with\n"
    digest = kept(root / settings, text.encode())
    head = {"material": material, "settings": {"file": settings.removeprefix("machines/"), "sha256": digest}}
    first = date(2025, 11, 27) if machine != "sinter-1" else date(2025, 11, 18)
    until = date(2026, 9, 30) if material == "pc-clear" else date(2027, 1, 31)
    spans = [(first, worn if is_worn else ENDS, worn if is_worn else None)]
    spans += [(anew, ENDS, None)] if is_worn else []
    return [
        head | {"qualified_on": begins, "valid_until": until, "by": "quality", "coupons": _coupons(material, begins, ends, out, chance)}
        for begins, ends, out in spans
    ]


def _coupons(material: str, begins: date, ends: date, out: date | None, chance: Random) -> list[dict[str, object]]:
    """Five groups of five at the qualification, five a month since; where `out` is a day, the group of that day lies too low."""
    mean, spread = STRENGTH[material]
    found = [_group(begins, mean, spread, chance, f"plate {number}") for number in range(1, 6)]
    day = begins + timedelta(days=32)
    while day < ends and (out is None or day < out):
        found.append(_group(day, mean, spread, chance, None))
        day += timedelta(days=29 + chance.randrange(4))
    if out:
        found.append(_group(out, mean - 3.2 * spread, spread, chance, "before the nozzle was changed"))
    return found


def _group(day: date, mean: float, spread: float, chance: Random, reference: str | None) -> dict[str, object]:
    """Five values about as wide as each other group, so that chance alone puts none out of the chart."""
    while True:
        values = [round(chance.gauss(mean, spread), 1) for _ in range(_GROUP)]
        centre = sum(values) / _GROUP
        if abs(centre - mean) < 0.5 * spread and 1.4 * spread < max(values) - min(values) < 3.2 * spread:
            break
    said = {"on": day, "property": "tensile strength across the layers, MPa", "values": values, "by": "quality"}
    return said | ({"reference": reference} if reference else {})


def batches(root: Path, catalogue: Catalogue, runs: list[Run]) -> None:
    for run in runs:
        folder = catalogue.folder(run.part)
        part = folder.part
        text = part_text(part, catalogue, folder)
        if run.revision != part.revision:
            permits = history(folder.approval, ENDS).permits
            text = next((each.text for each in permits if each.event.revision == run.revision), None) or _of_a_trial(folder.approval, run.revision)
        printed = printed_text(text, MACHINES[run.machine][1])
        settings = f"{run.machine}-{part.material}.txt"
        digest = kept(root / f"batches/documents/{settings}", (root / f"machines/documents/{settings}").read_bytes())
        record(
            root / f"batches/{run.name}.yml",
            f"{part.name}, {run.count} pieces. Only add events, at the end.",
            {
                "part": run.part, "revision": run.revision, "printed_as": printed, "fingerprint": fingerprint(printed),
                "count": run.count, "machine": run.machine, "printed_by": "am-specialist",
                "settings_file": {"file": f"documents/{settings}", "sha256": digest},
                "lots": run.lots, "started": run.started, "ended": run.ended, "grams": run.grams, "events": run.events,
            },
        )  # fmt: skip


def _of_a_trial(approval: object, revision: str) -> str:
    return next(each.approved_as for each in approval.events if getattr(each, "approved_as", None) and each.revision == revision)


def named(runs: list[Run], fleet: Fleet) -> None:
    """Numbers the batches as they were printed, in their lines too."""
    names = {}
    for number, run in enumerate(sorted(runs, key=lambda each: (each.started, each.part)), start=101):
        names[run.name] = run.name = f"B-{number:04d}"
    for line in fleet.lines:
        line.batch, line.removed_batch = names.get(line.batch, ""), names.get(line.removed_batch, "")
    runs.sort(key=lambda each: each.name)


def counted(runs: list[Run], fleet: Fleet) -> None:
    """The store counted on 3 November; what is called back was scrapped, but for one piece that nobody has found."""
    day = date(2026, 11, 3)
    for run in runs:
        if run.released is None or run.released > day:
            continue
        went = sum(count for on, count in run.fits.items() if on <= day)
        good = run.count - sum(each["count"] for each in run.events if each["what"] == "scrapped")
        if CALLED_BACK in run.lots:
            lost = 1 if run.part == "TV-0105" and good - went > 1 else 0
            if good - went - lost > 0:
                run.events.append({"what": "scrapped", "on": date(2026, 10, 14), "by": "stores", "count": good - went - lost, "why": "called back"})
        elif good - went > 0:
            run.events.append({"what": "counted", "on": day, "by": "stores", "on_shelf": good - went})


def recall(root: Path) -> None:
    record(
        root / "recalls/RC-0001.yml",
        "Only add events, at the end.",
        {
            "lot": CALLED_BACK,
            "events": [
                {
                    "what": "called back", "on": CALLED_BACK_ON, "by": "quality", "reference": "supplier's letter SL-26-77",
                    "why": "The supplier has taken back the certificate of the lot: impact strength below what it stated. Caps and retainers may crack at the screw.",
                }
            ],
        },
    )  # fmt: skip


def fitted(root: Path, fleet: Fleet) -> None:
    (root / "fitted").mkdir(parents=True, exist_ok=True)
    for year in sorted({line.day.year for line in fleet.lines}):
        told = io.StringIO(newline="")
        rows = csv.writer(told, lineterminator="\n")
        rows.writerow(COLUMNS)
        for number, line in enumerate((each for each in fleet.lines if each.day.year == year), start=1):
            _, of, vehicle, place, position = line.spot
            rows.writerow(
                [line.day, of, vehicle, place, position, line.batch, line.count or "", line.removed_batch, line.removed or "", line.why, line.by, f"{year}-{number:04d}"]
            )
        (root / f"fitted/{year}.csv").write_text(told.getvalue(), encoding="utf-8", newline="\n")


def required(root: Path) -> None:
    """What coupons have to show, at the end of each material's record."""
    for material, (mean, spread) in STRENGTH.items():
        file = root / f"materials/{material}.yml"
        text = re.sub(r"\n# What coupons of each machine.*\nrequired:\n(?:  .*\n)+", "\n", file.read_text(encoding="utf-8"))
        least = round(mean - 3 * spread - 0.4)
        text += f'# What coupons of each machine have to show before prints of it count: nine of ten, with 95 % confidence.\nrequired:\n  - {{property: "tensile strength across the layers, MPa", least: {least}, source: "our print standard PS-3, table 2"}}\n'
        file.write_text(text, encoding="utf-8", newline="\n")


def year_of(root: Path, catalogue: Catalogue, fleet: Fleet, seed: int) -> None:
    """Everything, in the order in which one file needs another."""
    runs = fleet.shop.runs
    named(runs, fleet)
    counted(runs, fleet)
    cleared(root)
    lots(root, catalogue, runs)
    machines(root, Random(seed + 1))
    batches(root, catalogue, runs)
    recall(root)
    fitted(root, fleet)
    required(root)


__all__ = ["BEGINS", "year_of"]
