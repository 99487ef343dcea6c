"""What is missing or idle is warned of; what no letter, maker or place bears out is an error."""

import io

import pytest
from PIL import Image

from generator.reading.catalogue import read_catalogue
from generator.records.problems import Severity
from tests.fixtures.told import says
from tests.reading.test_roles import CLIP, KNOB, LEVER, edited


def picture(kind, size=(8, 6)):
    held = io.BytesIO()
    Image.effect_noise(size, 90).convert("RGB").save(held, kind)
    return held.getvalue()


JPEG = picture("JPEG")
WAIVER = "waiver: {reason: like for like, by: keeper, reference: W-1}\n"


def told(depot, number):
    found = read_catalogue(depot).folder(number).problems
    return [(each.code, each.severity, str(each.where), says(each)) for each in found]


def test_a_part_without_approval_is_noticed(depot):
    (depot / KNOB / "approval.yml").unlink()
    assert told(depot, "EX-0001") == [("APPR24", Severity.WARNING, KNOB, "has no approval.yml")]


@pytest.mark.parametrize("folder", [KNOB, CLIP])
def test_what_may_be_fitted_needs_fitting_notes(depot, folder):
    (depot / folder / "fitting.md").unlink()
    says = "has no fitting.md, although an approval or trial stands"
    number = folder.removeprefix("parts/")[:7]
    assert told(depot, number) == [("FIT03", Severity.WARNING, folder, says)]


@pytest.mark.parametrize(
    ("folder", "end"),
    [
        (KNOB, "by: keeper\n    what: withdrawn\n    reason: two broke"),
        (CLIP, "by: keeper\n    what: trial closed\n    reason: it holds"),
    ],
)
def test_what_is_over_needs_none(depot, folder, end):
    (depot / folder / "fitting.md").unlink()
    with (depot / folder / "approval.yml").open("a", encoding="utf-8") as record:
        record.write(f"  - on: 2026-11-20\n    {end}\n")
    assert told(depot, folder.removeprefix("parts/")[:7]) == []


@pytest.mark.parametrize(
    ("content", "count"),
    [
        (picture("PNG"), 1),  # the name says JPEG
        (JPEG, 0),
        (JPEG[:-40], 1),
        (JPEG[:-40] + JPEG[-2:], 0),  # what is broken inside is seen by the browser alone
        (b"\xff\xd8\xff\xe0 and so on", 1),
        (b"\0\0\0\x1cftypavif\0\0\0\0", 1),
        (b"%PDF-1.7 a letter", 1),
        (b"<svg onload=alert(1)>", 1),
        (b"RIFF\0\0\0\0WAVEfmt ", 1),
        (b"", 1),
    ],
    ids=lambda each: repr(each)[:12],
)
def test_a_photo_is_a_whole_picture_of_its_kind(depot, content, count):
    (depot / KNOB / "photos").mkdir()
    (depot / KNOB / "photos/front.jpg").write_bytes(content)
    expected = ("PHOTO01", Severity.WARNING, f"{KNOB}/photos/front.jpg", "is no picture that can be shown, and is left out")
    assert told(depot, "EX-0001") == [expected] * count


def test_a_material_is_for_the_process_of_its_maker(depot):
    edited(depot, "materials/petg.yml", "[material extrusion]", "[vat photopolymerization]")
    found = [each for each in told(depot, "EX-0001") if each[0] == "MAKE02"]
    says = "names 'bench', who prints by material extrusion; petg is for vat photopolymerization"
    assert [(severity, what) for _, severity, _, what in found] == [(Severity.ERROR, says)]
    assert found[0][2].startswith(f"{KNOB}/part.yml:")


def test_an_approval_for_a_place_where_the_part_does_not_sit(depot):
    edited(depot, f"{KNOB}/approval.yml", "places: [cab]", "places: [cab, door]")
    ((code, severity, where, says),) = told(depot, "EX-0001")
    assert (code, severity) == ("APPR20", Severity.ERROR)
    assert says == "speaks of A1, door, where the part does not sit"
    line = 1 + (depot / KNOB / "approval.yml").read_text().split("places: [cab, door]")[0].count("\n")
    assert where.startswith(f"{KNOB}/approval.yml:{line}:")


def test_a_waiver_without_a_safety_role_is_idle(depot):
    edited(depot, f"{KNOB}/approval.yml", "route: customer\n", "route: customer\n" + WAIVER)
    ((code, severity, where, says),) = told(depot, "EX-0001")
    assert (code, severity) == ("APPR27", Severity.WARNING)
    assert where.startswith(f"{KNOB}/approval.yml:2:")
    assert says == "waives the authority for a part without a safety role"


def test_a_safety_role_does_not_go_to_the_customer_alone(depot):
    record = "route: customer\nevents:\n  - {on: 2026-11-01, what: design started, by: specialist}\n"
    (depot / LEVER / "approval.yml").write_text(record, encoding="utf-8")
    ((code, severity, where, says),) = told(depot, "EX-0002")
    assert (code, severity, where) == ("APPR26", Severity.ERROR, f"{LEVER}/approval.yml:1:8")
    assert says == "sends a part with a safety role to the customer alone"
    (depot / LEVER / "approval.yml").write_text(WAIVER + record, encoding="utf-8")
    assert told(depot, "EX-0002") == []
    (depot / LEVER / "approval.yml").write_text(record.replace("customer", "authority"), encoding="utf-8")
    assert told(depot, "EX-0002") == []
