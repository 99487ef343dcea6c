"""The grounds of a part: which vehicles stand alike, what each fact is drawn from, and old labels."""

import re
from dataclasses import replace
from datetime import date, timedelta

import pytest

from generator.reading.catalogue import read_catalogue
from generator.records.catalogue import KeptFile
from generator.records.problems import wrong
from generator.rules.facts.case import Copy
from generator.rules.sheet import sheet
from generator.rules.verdicts import Verdict
from tests.fixtures.bind import bound_anew
from tests.fixtures.tiny import CLIP, DAY, DEPOT, KNOB, LEVER
from tests.rules.cases import tiny

COPY = Copy(DAY, 30)


def judged(number, catalogue=None, **other):
    catalogue = catalogue or tiny()
    folder = catalogue.folder(number)
    assert folder is not None
    return sheet(replace(folder, **other), None, catalogue, COPY)


def judged_with(petg):
    """The knob, approved with the material as it is given."""
    catalogue = replace(tiny(), materials={**tiny().materials, "petg": petg})
    folder = catalogue.folder(KNOB)
    assert folder is not None
    return sheet(bound_anew(folder, catalogue), None, catalogue, COPY)


def permits(number, **other):
    return judged(number, **other).grounds[0].permits


def test_each_group_of_vehicles_that_stands_alike_is_one_ground():
    grounds = judged(CLIP).grounds
    assert [(ground.fleet, ground.place, ground.vehicles) for ground in grounds] == [
        ("B2", "bogie", ("21",)),
        ("B2", "bogie", ("22",)),
    ]
    assert [ground.on(DAY).verdict for ground in grounds] == [Verdict.FIT_IT, Verdict.DO_NOT_FIT]


def test_every_fitted_vehicle_is_in_exactly_one_ground():
    for number in (KNOB, LEVER, CLIP):
        found = judged(number)
        assert found.part is not None
        for fit in found.part.fits:
            mine = [g for g in found.grounds if (g.fleet, g.place) == (fit.fleet, fit.place)]
            ranges = [one for ground in mine for one in ground.vehicles]
            assert len(ranges) == len(set(ranges)) > 0


def test_a_part_that_cannot_be_read_has_no_ground_and_is_not_fitted():
    found = judged(KNOB, part=None)
    assert found.grounds == ()
    assert found.best is found.worst is Verdict.DO_NOT_FIT


@pytest.mark.parametrize("gone", ["mesh", "approval"])
def test_without_mesh_or_approval_nothing_is_fitted(gone):
    assert judged(KNOB, **{gone: None}).best is Verdict.DO_NOT_FIT


def test_a_mesh_that_cannot_be_worked_on_is_not_fitted():
    folder = tiny().folder(KNOB)
    assert folder is not None
    spoilt = sheet(folder, wrong("MESH03", "empty", "save again"), tiny(), COPY)
    assert spoilt.best is Verdict.DO_NOT_FIT
    assert any(problem.code == "MESH03" for problem in spoilt.problems)


def test_a_fleet_that_is_not_there_has_a_ground_without_vehicles_that_says_no():
    found = judged(KNOB, catalogue=replace(tiny(), fleets={}))
    assert [(ground.vehicles, ground.on(DAY).verdict) for ground in found.grounds] == [
        ((), Verdict.DO_NOT_FIT)
    ]


@pytest.mark.parametrize("what", ["materials", "makers", "material_files"])
def test_without_what_it_rests_on_nothing_is_fitted(what):
    assert judged(KNOB, catalogue=replace(tiny(), **{what: {}})).best is Verdict.DO_NOT_FIT


@pytest.mark.parametrize("name", ["documents/petg-fire.txt", "documents/petg-certificate.txt"])
@pytest.mark.parametrize("spoilt", ["empty", "other"])
def test_material_evidence_must_be_the_file_recorded(name, spoilt):
    files = dict(tiny().material_files)
    kept = files[name]
    sha256 = kept.sha256 if spoilt == "empty" else "f" * 64
    files[name] = KeptFile(path=kept.path, size_bytes=0 if spoilt == "empty" else 9, sha256=sha256)
    assert judged(KNOB, catalogue=replace(tiny(), material_files=files)).best is Verdict.DO_NOT_FIT


@pytest.mark.parametrize(("kind", "key"), [("certificates", "issued_on"), ("fire_tests", "tested_on")])
@pytest.mark.parametrize(("shift", "verdict"), [(0, Verdict.FIT_IT), (1, Verdict.DO_NOT_FIT)])
def test_papers_of_days_to_come_do_not_count(kind, key, shift, verdict):
    petg = tiny().materials["petg"]
    later = getattr(petg, kind)[0].model_copy(update={key: DAY + timedelta(days=shift)})
    changed = petg.model_copy(update={kind: (later,)})
    assert judged_with(changed).best is verdict


def test_a_fire_report_without_an_end_is_unknown_unless_it_says_so():
    petg = tiny().materials["petg"]
    for open_ended, verdict in ((False, Verdict.DO_NOT_FIT), (True, Verdict.FIT_IT)):
        test = petg.fire_tests[0].model_copy(update={"valid_until": None, "open_ended": open_ended})
        changed = petg.model_copy(update={"fire_tests": (test,)})
        assert judged_with(changed).best is verdict


@pytest.mark.parametrize("kind", ["certificates", "fire_tests"])
def test_a_paper_counts_only_where_the_permit_names_it_and_until_the_earlier_end(kind):
    """Filed later or under another name, it counts for nothing; prolonged, until the end that was approved."""
    petg = tiny().materials["petg"]
    (paper,) = getattr(petg, kind)
    title = "reference" if kind == "certificates" else "report"
    other = paper.model_copy(update={title: "another", "sha256": "9" * 64})
    longer = paper.model_copy(update={"valid_until": None, "open_ended": True})
    fact = "certificate_until" if kind == "certificates" else "fire_until"
    for papers, until in (((paper, other), paper.valid_until), ((other,), None), ((longer,), paper.valid_until)):
        changed = petg.model_copy(update={kind: papers})
        catalogue = replace(tiny(), materials={**tiny().materials, "petg": changed})
        (facts, *_) = permits(KNOB, catalogue=catalogue)
        assert getattr(facts, fact) == until


def test_a_harder_operation_asks_for_a_better_report():
    fleets = dict(tiny().fleets)
    fleets["A1"] = fleets["A1"].model_copy(update={"operation_category": 4})
    assert judged(KNOB, catalogue=replace(tiny(), fleets=fleets)).best is Verdict.DO_NOT_FIT


def test_nobody_has_chosen_the_requirement_set():
    folder = tiny().folder(KNOB)
    assert folder is not None
    assert folder.part is not None
    found = judged(KNOB, part=folder.part.model_copy(update={"fire": None}))
    assert all(facts.fire_set is None for facts in found.grounds[0].permits)
    assert found.best is Verdict.DO_NOT_FIT


def test_the_facts_name_their_sources():
    (facts,) = permits(KNOB)
    assert facts.permit_reference == "L-1"
    assert facts.certificate == "C-petg (EN 10204 3.1)"
    assert facts.fire_report == "F-petg (EN 45545-2:2020+A1:2023)"
    assert facts.fire_need == "R22, HL2, 1.5–6 mm"
    assert (facts.permit_until, facts.certificate_until, facts.fire_until) == (
        date(2027, 6, 30),
        date(2027, 12, 31),
        date(2027, 9, 30),
    )


def old_label(depot, *, edits):
    """The knob at revision B after `edits` to the depot; its approval is of revision A."""
    for file, before, after in [("parts/EX-0001-lid-knob/part.yml", "revision: A", "revision: B"), *edits]:
        path = depot / file
        text = path.read_text("utf-8")
        assert before in text
        path.write_text(text.replace(before, after), "utf-8")
    catalogue = read_catalogue(depot)
    folder = catalogue.folder(KNOB)
    assert folder is not None
    return {
        ground.label_revision: ground.on(DAY).verdict
        for ground in sheet(folder, None, catalogue, COPY).grounds
    }


PART = "parts/EX-0001-lid-knob/part.yml"


@pytest.mark.parametrize(
    ("edits", "verdict"),
    [
        pytest.param([], Verdict.FIT_IT, id="only the revision"),
        pytest.param([(PART, "layer_mm: 0.2", "layer_mm: 0.3")], Verdict.FIT_IT, id="printed otherwise now"),
        pytest.param([(PART, "material: petg", "material: petg-new")], Verdict.FIT_IT, id="of another material now"),
        pytest.param(
            [(PART, "material: petg", "material: petg-new"), ("materials/petg.yml", "valid_until: 2027-09-30", "valid_until: 2026-11-24")],
            Verdict.DO_NOT_FIT,
            id="its own material's fire report is over, the new one's is not",
        ),
        pytest.param(
            [(PART, "material: petg", "material: petg-new"), ("materials/petg.yml", "family: PETG", "family: PC")],
            Verdict.DO_NOT_FIT,
            id="its material's record now speaks of something else",
        ),
        pytest.param([(PART, "thinnest_wall_mm: 1.5", "thinnest_wall_mm: 5")], Verdict.FIT_IT, id="thicker walls now"),
        pytest.param(
            [(PART, "requirement_set: R22", "requirement_set: R24")],
            Verdict.DO_NOT_FIT,
            id="the place is known to ask for more now",
        ),
        pytest.param([(PART, "safety_role: none", "safety_role: safety")], Verdict.DO_NOT_FIT, id="a safety part now"),
    ],
)  # fmt: skip
def test_old_stock_is_judged_by_what_it_was_made_of(edits, verdict, depot):
    found = old_label(depot, edits=edits)
    assert found[None] is Verdict.DO_NOT_FIT
    assert found["A"] is verdict


def test_a_safety_part_that_is_none_any_more_keeps_its_old_stock_careful(depot):
    lever = "parts/EX-0002-brake-lever"
    edits = [
        (f"{lever}/part.yml", "revision: B", "revision: C"),
        (f"{lever}/part.yml", "safety_role: safety", "safety_role: none"),
        (f"{lever}/approval.yml", "route: authority", "route: customer"),
        (f"{lever}/approval.yml", "by: authority", "by: reviewer"),
    ]
    for file, before, after in edits:
        text = (depot / file).read_text("utf-8")
        assert before in text
        (depot / file).write_text(text.replace(before, after), "utf-8")
    record = (depot / lever / "approval.yml").read_text("utf-8")
    without = re.sub(r"  - on: 2025-06-01\n    what: sent to the authority\n(    .*\n)+", "", record)
    assert without != record
    (depot / lever / "approval.yml").write_text(without, "utf-8")
    catalogue = read_catalogue(depot)
    folder = catalogue.folder(LEVER)
    assert folder is not None
    found = sheet(folder, None, catalogue, COPY)
    labels = {ground.label_revision: ground.on(DAY) for ground in found.grounds if ground.fleet == "A1"}
    assert labels["B"].verdict is Verdict.DO_NOT_FIT
    assert labels["B"].decided_by is not None
    assert labels["B"].decided_by.step.id == "authority"


def test_the_tiny_depot_can_be_bound_anew(depot):
    from tests.fixtures.bind import bind

    before = {path: path.read_bytes() for path in sorted(DEPOT.rglob("*.yml"))}
    bind(depot)
    assert {path: (depot / path.relative_to(DEPOT)).read_bytes() for path in before} == before


def test_verdicts_end_with_the_first_paper_that_ends():
    (ground,) = judged(KNOB).grounds
    young = replace(ground.permits[0], max_copy_age_days=9999)
    ends = replace(ground, permits=(young,))
    assert ends.on(date(2027, 6, 30)).verdict is Verdict.FIT_IT
    assert ends.on(date(2027, 7, 1)).verdict is Verdict.DO_NOT_FIT
