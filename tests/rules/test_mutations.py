"""More than 200 spoilt copies of a part that may be fitted: none gives a wrong "Fit it".

What is right is said here by hand, not by the rules: `HARMLESS` lists what an approval does not speak of. Whatever
else is taken away, retyped or changed must cost the part its "Fit it", on the day of the build and on the tablet.
"""

import copy
import json
import shutil
from collections.abc import Iterator
from datetime import timedelta
from pathlib import Path

import pytest

from generator.reading.yaml_places import read_yaml
from generator.rules.screening import SIX_QUESTIONS
from generator.rules.verdicts import Verdict
from tests.fixtures.tiny import DAY, DEPOT, KNOB, LEVER, sheets

FOLDER = "parts/EX-0001-lid-knob"
PART, APPROVAL, PETG = f"{FOLDER}/part.yml", f"{FOLDER}/approval.yml", "materials/petg.yml"
Path_ = tuple[str | int, ...]

# Taking these away, or giving them another valid value, changes nothing that was approved.
HARMLESS = {
    PART: {
        "name", "other_names", "purpose", "replaces", "look_alikes", "yearly_demand", "fits.0.per_vehicle",
        "fire.reason", "fire.chosen_by",
    },
    APPROVAL: {"events.1.reference", "events.4.reference"},
    PETG: {"name", "processes"},
}  # fmt: skip
# What people answered in their own words: any words will do, nothing else does.
ANSWERS = {f"screening.{key}.{said}" for key in ("identical_function", *SIX_QUESTIONS) for said in ("answer", "reason")} - {
    "screening.identical_function.answer"
}
GARBAGE = (None, "", "garbage", -1, [], {"x": 1}, "0" * 64)


def loaded(file: str) -> dict:
    content = read_yaml(file, (DEPOT / file).read_bytes()).content
    assert isinstance(content, dict)
    return content


def paths(content: object, path: Path_ = ()) -> Iterator[Path_]:
    if path:
        yield path
    entries = (
        content.items()
        if isinstance(content, dict)
        else enumerate(content)
        if isinstance(content, list)
        else ()
    )
    for key, value in entries:
        yield from paths(value, (*path, key))


def spelled(path: Path_) -> str:
    return ".".join(map(str, path))


def without(content: dict, path: Path_) -> dict:
    result = copy.deepcopy(content)
    at = result
    for step in path[:-1]:
        at = at[step]
    del at[path[-1]]
    return result


def with_value(content: dict, path: Path_, value: object) -> dict:
    result = copy.deepcopy(content)
    at = result
    for step in path[:-1]:
        at = at[step]
    at[path[-1]] = value
    return result


def write(root: Path, file: str, content: dict) -> None:
    (root / file).write_text(json.dumps(content), "utf-8")  # JSON is YAML, and quick to write


def best(root: Path) -> set[Verdict]:
    """Every verdict of every ground of the knob, at the build and while the copy lives."""
    found, _ = sheets(root, only=KNOB)
    days = [DAY + timedelta(days=n) for n in (-1, 0, 1, 30, 31)]
    knobs = [sheet for sheet in found if sheet.number == KNOB]
    return {ground.on(day).verdict for sheet in knobs for ground in sheet.grounds for day in days}


@pytest.fixture
def few_parts(depot):
    """The depot without the part that the knob does not name: read for each copy, and no matter to the knob."""
    shutil.rmtree(next(depot.glob(f"parts/{LEVER}-*")))
    return depot


def every(file: str) -> list[Path_]:
    return list(paths(loaded(file)))


def test_without_the_other_part_the_knob_may_be_fitted(few_parts):
    assert Verdict.FIT_IT in best(few_parts)


TAKEN = [(file, path) for file in (PART, APPROVAL, PETG) for path in every(file)]


@pytest.mark.parametrize(
    ("file", "path"), TAKEN, ids=lambda each: spelled(each) if isinstance(each, tuple) else each
)
def test_taken_away(file, path, few_parts):
    write(few_parts, file, without(loaded(file), path))
    inside_harmless = any(spelled(path).startswith(f"{name}.") for name in HARMLESS[file])
    if spelled(path) not in HARMLESS[file] and not inside_harmless:
        assert Verdict.FIT_IT not in best(few_parts)


@pytest.mark.parametrize("file", [PART, APPROVAL, PETG])
def test_retyped(file, few_parts):
    """Seven kinds of garbage in every place: only what is harmless and happens to be valid may pass."""
    content = loaded(file)
    tried = 0
    for path in paths(content):
        inside_harmless = any(spelled(path).startswith(name) for name in HARMLESS[file])
        for value in GARBAGE:
            is_answer = spelled(path) in ANSWERS and isinstance(value, str) and value
            if inside_harmless or is_answer or _says_the_same(content, path, value):
                continue
            write(few_parts, file, with_value(content, path, value))
            tried += 1
            assert Verdict.FIT_IT not in best(few_parts), (spelled(path), value)
    assert tried > 100


def _says_the_same(content: dict, path: Path_, value: object) -> bool:
    """Whether leaving a key empty says what was said before, or what the key's absence says."""
    at: object = content
    for step in path:
        at = at[step]  # type: ignore[index]
    name = spelled(path)
    absent = (value is None and name in {"replaces", "fits.0.vehicles"}) or at == value
    own_thing = name in {
        "colour", "events.0.reference", "properties.heat_deflection_c"
    }  # fmt: skip
    return absent or own_thing


# What is valid in form and yet not what was approved, or no longer good.
CHANGES: list[tuple[str, str, object]] = [
    (PART, "number", "EX-0004"), (PART, "revision", "B"), (PART, "safety_role", "safety"),
    (PART, "material", "petg-new"), (PART, "makers", ["bench", "bureau"]), (PART, "mesh_units", "inch"),
    (PART, "settings.orientation", "upright"), (PART, "settings.layer_mm", 0.3), (PART, "settings.infill_percent", 99),
    (PART, "settings.wall_mm", 1.2), (PART, "settings.support", "tree"), (PART, "settings.after_print", "annealed"),
    (PART, "settings.surface_texture", "as printed"), (PART, "settings.repair", "cracks glued"), (PART, "settings.acceptable_imperfections", "cracks"),
    (PART, "fire.requirement_set", "R24"), (PART, "fire.thinnest_wall_mm", 1.4), (PART, "fire.thinnest_wall_mm", 2.0),
    (PART, "fire.exemption", "statement 7"), (PART, "checks.0.nominal_mm", 6.01), (PART, "checks.0.plus_mm", 0.2),
    (PART, "checks.0.minus_mm", 0.1), (PART, "checks.0.name", "Hole"), (PART, "checks.0.measured_with", "pin"),
    (PART, "fits.0.fleet", "B2"), (APPROVAL, "route", "authority"),
    (APPROVAL, "screening.judged_significant", "yes"), (APPROVAL, "screening.identical_function.answer", "no"),
    (APPROVAL, "screening.judged_on", "2026-12-24"), (APPROVAL, "screening.novelty.on", "2026-12-24"),
    (APPROVAL, "screening.judged_by", "stranger"), (APPROVAL, "screening", {}),
    (APPROVAL, "events.4.scope.0.fleet", "B2"), (APPROVAL, "events.4.scope.0.places", ["door"]),
    (APPROVAL, "events.4.valid_until", "2026-11-24"), (APPROVAL, "events.4.valid_until", "2025-01-01"),
    (APPROVAL, "events.4.on", "2026-11-26"), (APPROVAL, "events.4.on", "2025-11-02"),
    (APPROVAL, "events.4.revision", "B"), (APPROVAL, "events.4.by", "specialist"), (APPROVAL, "events.4.by", "nobody"),
    (APPROVAL, "events.4.conditions", ["Check every month."]), (APPROVAL, "events.4.fingerprint", "f" * 64),
    (APPROVAL, "events.4.approved_as", "number: EX-0001"), (APPROVAL, "events.4.what", "approval refused"),
    (APPROVAL, "events.4.evidence.0.sha256", "f" * 64), (APPROVAL, "events.4.evidence.0.file", "documents/none.txt"),
    (APPROVAL, "events.4.evidence.0.file", "documents/acceptance.txt"), (APPROVAL, "events.4.open_ended", True),
    (APPROVAL, "events.1.what", "customer acceptance refused"), (APPROVAL, "events.3.what", "sent to the authority"),
    (APPROVAL, "events.1.evidence.0.sha256", "f" * 64),
    (APPROVAL, "events.1.evidence", []), (PETG, "grade", "Type 5"), (PETG, "supplier", "Resins Inc."),
    (PETG, "certificates.0.type", "2.1"), (PETG, "certificates.0.reference", "C-9"), (PETG, "fire_tests.0.standard", "EN 45545-2:2013"),
    (PETG, "fire_tests.0.report", "F-9"), (PETG, "fire_tests.0.laboratory", "Other laboratory"),
    ("makers.yml", "makers.0.name", "Another printer"), ("makers.yml", "makers.0.kind", "bureau"),
    ("makers.yml", "makers.0.machine_model", "Q-100"),
    (PETG, "family", "PC"), (PETG, "density_g_cm3", 1.28), (PETG, "properties.tensile_strength_mpa", 44),
    (PETG, "properties.tensile_strength_mpa", 46), (PETG, "certificates.0.valid_until", "2026-11-24"),
    (PETG, "certificates.0.issued_on", "2026-11-26"), (PETG, "certificates.0.sha256", "f" * 64),
    (PETG, "certificates.0.file", "documents/petg-fire.txt"), (PETG, "fire_tests.0.requirement_set", "R24"),
    (PETG, "fire_tests.0.hazard_level", "HL1"), (PETG, "fire_tests.0.tested_on", "2026-11-26"),
    (PETG, "fire_tests.0.valid_until", "2026-11-24"), (PETG, "fire_tests.0.thickness_mm", 1.6),
    (PETG, "fire_tests.0.sha256", "f" * 64), (PETG, "fire_tests.0.file", "documents/petg-certificate.txt"),
    ("fleets.yml", "fleets.0.operation_category", 4), ("fleets.yml", "fleets.0.design_category", "X"),
    ("fleets.yml", "fleets.0.operation_category", 1), ("fleets.yml", "fleets.0.operation_category", 3),
    ("fleets.yml", "fleets.0.design_category", "A"), ("fleets.yml", "fleets.0.name", "A1 railcar, rebuilt"),
    ("fleets.yml", "fleets.0.in_service_since", 1991), ("fleets.yml", "fleets.0.places.0.area", "exterior"),
    ("fleets.yml", "fleets.0.places.0.name", "Engine room"), (PETG, "fire_tests.0.thickness_mm", 0.0001),
    (APPROVAL, "events.4.valid_until", "2106-06-30"), (APPROVAL, "events.4.on", "1989-06-01"),
    (APPROVAL, "events.4.replaces", ["2026-01-01"]), (PETG, "certificates.0.valid_until", "2126-06-30"),
    (PETG, "certificates.0.open_ended", True), (PETG, "fire_tests.0.issued_on", "1985-01-01"),
    ("fleets.yml", "fleets.0.id", "A9"), ("fleets.yml", "fleets.0.places.0.id", "cabin"),
    ("fleets.yml", "fleets.1.id", "A1"), ("makers.yml", "makers.0.process", "vat photopolymerization"),
    ("makers.yml", "makers.0.id", "bench-2"), ("makers.yml", "makers.0.materials", ["nylon"]),
    ("makers.yml", "makers.1.id", "bench"), ("depot.yml", "roles.3.id", "reviewer-2"), ("depot.yml", "roles.0.id", "keeper"),
]  # fmt: skip
DEPOT_ONLY = {("depot.yml", "roles.0.id")}  # the depot cannot be read at all: there are no pages


@pytest.mark.parametrize(("file", "name", "value"), CHANGES, ids=lambda each: str(each)[:40])
def test_changed(file, name, value, depot):
    path = tuple(int(step) if step.isdigit() else step for step in name.split("."))
    content = loaded(file)
    write(depot, file, with_value(content, path, value))
    if file == PART and name == "number":
        (depot / FOLDER).rename(depot / "parts/EX-0004-lid-knob")
    found, problems = sheets(depot)
    knobs = [sheet for sheet in found if sheet.number in (KNOB, "EX-0004")]
    current = [ground for sheet in knobs for ground in sheet.grounds if ground.label_revision is None]
    if (file, name) in DEPOT_ONLY:
        assert problems
        return
    assert all(ground.on(DAY).verdict is not Verdict.FIT_IT for ground in current)
    old = {ground.label_revision for sheet in knobs for ground in sheet.grounds if ground not in current
           if ground.on(DAY).verdict is Verdict.FIT_IT}  # fmt: skip
    assert old == ({"A"} if (file, name) == (PART, "revision") else set())


FILES = ["model.stl", "documents/approval-letter.txt", "documents/acceptance.txt"]
MATERIAL_FILES = ["materials/documents/petg-fire.txt", "materials/documents/petg-certificate.txt"]


@pytest.mark.parametrize("file", [*(f"{FOLDER}/{name}" for name in FILES), *MATERIAL_FILES])
@pytest.mark.parametrize("how", ["one bit", "one byte more", "one byte less", "empty", "gone", "moved"])
def test_a_file_is_not_the_one_that_was_approved(file, how, depot):
    target = depot / file
    raw = target.read_bytes()
    spoilt = {
        "one bit": bytes([raw[0] ^ 1]) + raw[1:],
        "one byte more": raw + b"\n",
        "one byte less": raw[:-1],
        "empty": b"",
    }
    if how == "gone":
        target.unlink()
    elif how == "moved":
        target.rename(target.with_name("other-" + target.name))
    else:
        target.write_bytes(spoilt[how])
    assert Verdict.FIT_IT not in best(depot)


@pytest.mark.parametrize("file", [PART, APPROVAL])
def test_cut_off_at_any_line(file, few_parts):
    """A record cut off anywhere is no "Fit it", unless all that is missing stands after what was approved."""
    lines = (DEPOT / file).read_text("utf-8").splitlines(keepends=True)
    harmless_tail = {PART: "look_alikes", APPROVAL: "\0"}[file]
    for count in range(len(lines)):
        if any(line.startswith(harmless_tail) for line in lines[:count]) or lines[count].startswith(
            harmless_tail
        ):
            break
        (few_parts / file).write_text("".join(lines[:count]), "utf-8")
        assert Verdict.FIT_IT not in best(few_parts), count


def test_cut_off_within_the_fingerprint(few_parts):
    raw = (DEPOT / APPROVAL).read_bytes().rstrip(b'"\n')
    for count in (1, 2, 63, 64, 65):
        (few_parts / APPROVAL).write_bytes(raw[:-count] + b'"\n')
        assert Verdict.FIT_IT not in best(few_parts)


@pytest.mark.parametrize("index", range(5))
def test_an_event_taken_out_or_moved(index, depot):
    content = loaded(APPROVAL)
    events = content["events"]
    write(depot, APPROVAL, content | {"events": events[:index] + events[index + 1 :]})
    assert Verdict.FIT_IT not in best(depot)
    write(depot, APPROVAL, content | {"events": [*events[:index], *events[index + 1 :], events[index]]})
    assert (Verdict.FIT_IT in best(depot)) is (index == len(events) - 1)


@pytest.mark.parametrize("file", ["", PART, APPROVAL, PETG])
def test_the_untouched_part_may_be_fitted_until_the_copy_is_too_old(file, depot):
    if file:
        write(depot, file, loaded(file))  # the way of writing spoils nothing
    found, _ = sheets(depot)
    knob = next(sheet for sheet in found if sheet.number == KNOB)
    (ground,) = knob.grounds
    words = {n: ground.on(DAY + timedelta(days=n)).verdict for n in (-1, 0, 1, 30, 31)}
    fit, ask = Verdict.FIT_IT, Verdict.ASK_FIRST
    assert words == {-1: ask, 0: fit, 1: fit, 30: fit, 31: ask}


def test_there_are_enough():
    assert len(TAKEN) + len(CHANGES) + 30 > 200
