"""What a change of each bound line means: the table against a second list, written by hand from what must be true.

The list is not taken from the code: it says for a part, a material, a maker, a place and the part's folder what an
engineer who approved it would say of each change.
"""

from dataclasses import replace

import pytest

from generator.records.fire import FireExemption
from generator.records.fitting import FittingNotes
from generator.records.makers import Maker
from generator.records.materials import Material
from generator.records.parts import Part
from generator.rules.changes import Means
from generator.rules.consequences import TABLE, part_changes, part_voids, text_voids
from generator.rules.fingerprint import BoundBeside, Sent, canonical_text
from tests.rules.forms import record

VOID, ASK, FREE = Means.VOID, Means.ASK, Means.FREE
MAKER = {
    "id": "bench", "name": "Bench A, hall 2", "kind": "in-house", "process": "material extrusion", "machine_model": "XT-300",
    "build_volume_mm": (200.0, 200.0, 200.0), "materials": ("petg",), "lead_time_days": 2,
    "price": {"per_gram": 0.1}, "order_at": "counter",
}  # fmt: skip
BUREAU = MAKER | {"id": "bureau", "name": "Bureau North", "kind": "bureau", "process": "powder bed fusion", "machine_model": None}
CERTIFICATE = {
    "type": "3.1", "reference": "C-1", "issued_on": "2025-01-02", "valid_until": "2030-01-01", "file": "documents/c.pdf", "sha256": "c" * 64,
}  # fmt: skip
REPORT = {
    "standard": "EN 45545-2:2020", "requirement_set": "R22", "hazard_level": "HL2", "report": "F-1", "laboratory": "Lab",
    "tested_on": "2025-01-02", "valid_until": "2030-01-01", "thickness_mm": 1.5, "file": "documents/f.pdf", "sha256": "f" * 64,
}  # fmt: skip
MATERIAL = {
    "name": "PETG", "family": "PETG", "grade": "Type 4", "supplier": "Plastics Ltd.", "density_g_cm3": 1.27,
    "processes": ("material extrusion",), "properties": {"tensile_strength_mpa": 43},
    "certificates": (CERTIFICATE, CERTIFICATE | {"reference": "C-0", "sha256": "d" * 64}), "fire_tests": (REPORT,),
}  # fmt: skip
CHECK = {"name": "Bore", "nominal_mm": 10, "plus_mm": 0.2, "minus_mm": 0.2, "measured_with": "pin gauge"}
PART = {
    "number": "EX-0001", "revision": "A", "name": "Knob", "purpose": "Turns.", "safety_role": "none", "material": "petg",
    "fits": ({"fleet": "A1", "place": "cab", "per_vehicle": 2},), "makers": ("bench", "bureau"), "mesh_units": "mm",
    "settings": {"orientation": "flat, hook side up", "layer_mm": 0.2, "wall_mm": 1.2, "infill_percent": 100, "after_print": "dried 8 h at 80 °C"},
    "fire": {"requirement_set": "R22", "thinnest_wall_mm": 2, "chosen_by": "x", "reason": "y"}, "checks": (CHECK,),
}  # fmt: skip
NOTES = FittingNotes(tools="- Spanner 8", steps="1. Turn it off.\n2. Push it on.", cautions="- Do not heat above 60 °C.", check_after_fitting="- It turns.")
FOLDER = BoundBeside(
    documents=(("drawing.pdf", "1" * 64),), photos=(("front.webp", "2" * 64),), fitting=NOTES,
    evidence=(Sent("2025-03-01", "customer acceptance given", "documents/minutes.pdf", "3" * 64),),
)  # fmt: skip


def text(part=PART, material=MATERIAL, makers=(MAKER, BUREAU), beside=FOLDER, mesh="a" * 64):
    made = [record(Maker, each) for each in makers]
    return canonical_text(record(Part, part), record(Material, material), made, mesh, beside)


NO_MODEL = {"because": "bought", "size_mm": [62, 40, 18], "buy_at": "central stores, 40.1187"}
BOUGHT = {key: PART[key] for key in PART if key not in ("makers", "settings", "mesh_units")} | {"no_model": NO_MODEL}


def bought(**own):
    return text(part=BOUGHT | {"no_model": NO_MODEL | own}, mesh=None)


def part_with(**own):
    return text(part=PART | own)


def printed(**own):
    return part_with(settings=PART["settings"] | own)


def checked(**own):
    return part_with(checks=(CHECK | own,))


def of_material(**own):
    return text(material=MATERIAL | own)


def made_by(*makers):
    return text(part=PART | {"makers": tuple(each["id"] for each in makers)}, makers=makers)


def noted(**own):
    return text(beside=replace(FOLDER, fitting=replace(NOTES, **own)))


def report(**own):
    return of_material(fire_tests=(REPORT | own,))


def certificate(**own):
    return of_material(certificates=(CERTIFICATE | own, MATERIAL["certificates"][1]))


# Before, after and what an engineer would say: nothing, ask me, or no.
BY_HAND = {
    # another part
    "another mesh": (text(), text(mesh="b" * 64), VOID),
    "other units of the mesh": (text(), part_with(mesh_units="inch"), VOID),
    "another revision": (text(), part_with(revision="B"), VOID),
    "another number": (text(), part_with(number="EX-0002"), VOID),
    "a safety role": (text(), part_with(safety_role="safety"), VOID),
    # no model
    "a model in place of none": (text(part=BOUGHT, mesh=None), text(), VOID),
    "no model any more": (text(), text(part=BOUGHT, mesh=None), VOID),
    "a scan to come of what was bought": (bought(), bought(because="scan to come"), VOID),
    "another size by hand": (bought(), bought(size_mm=[62, 40, 19]), VOID),
    "a size by hand for the first time": (bought(size_mm=None), bought(), ASK),
    "no size by hand any more": (bought(), bought(size_mm=None), VOID),
    "bought elsewhere": (bought(), bought(buy_at="any shop"), ASK),
    "the shop's spelling mended": (bought(), bought(buy_at="Central Stores, 40.1187"), FREE),
    # material
    "another material": (text(), part_with(material="pc"), VOID),
    "another polymer": (text(), of_material(family="PC"), VOID),
    "another density": (text(), of_material(density_g_cm3=1.3), VOID),
    "another grade": (text(), of_material(grade="Type 5"), VOID),
    "another name of the material": (text(), of_material(name="PETG natural"), ASK),
    "the material's name mended": (text(), of_material(name="petg"), FREE),
    "another number that it replaces": (text(), part_with(replaces=({"number": "4-1"},)), ASK),
    "ordered elsewhere": (text(), made_by(MAKER, BUREAU | {"order_at": "any printer"}), ASK),
    "no grade any more": (text(), of_material(grade=None), VOID),
    "another supplier": (text(), of_material(supplier="Resins Inc."), VOID),
    "the supplier's name mended": (text(), of_material(supplier="PLASTICS  Ltd"), FREE),
    "the grade written otherwise": (text(), of_material(grade="TYPE 4"), ASK),
    "the model noted for the first time": (made_by(MAKER | {"machine_model": None}), made_by(MAKER), ASK),
    "grade noted for the first time": (of_material(grade=None), text(), ASK),
    "property noted for the first time": (text(), of_material(properties={"tensile_strength_mpa": 43, "heat_deflection_c": 70}), FREE),
    "property changed": (text(), of_material(properties={"tensile_strength_mpa": 44}), VOID),
    "property taken out": (text(), of_material(properties={}), VOID),
    # how it is printed
    "thicker layers": (text(), printed(layer_mm=0.3), VOID),
    "thinner walls": (text(), printed(wall_mm=1.0), VOID),
    "less infill": (text(), printed(infill_percent=40), VOID),
    "the axis that points up first said": (text(), printed(up="+z"), ASK),
    "another axis points up": (printed(up="+z"), printed(up="-z"), VOID),
    "the axis that points up no more said": (printed(up="+z"), text(), VOID),
    "another orientation": (text(), printed(orientation="upright"), VOID),
    "the orientation's spelling mended": (text(), printed(orientation="Flat; hook side up"), ASK),
    "another word in the orientation": (text(), printed(orientation="flat, hook side down"), VOID),
    "a figure in the text": (text(), printed(after_print="dried 9 h at 80 °C"), VOID),
    "a decimal point in the text": (printed(after_print="sanded to 1.5 mm"), printed(after_print="sanded to 15 mm"), VOID),
    "a dash before a figure": (printed(after_print="cooled to -5 °C"), printed(after_print="cooled to 5 °C"), VOID),
    "a dash apart from its figure": (printed(after_print="cooled to - 5 °C"), printed(after_print="cooled to 5 °C"), VOID),
    "the case of a unit": (printed(after_print="pressed at 5 mPa"), printed(after_print="pressed at 5 MPa"), VOID),
    "a per cent sign": (printed(after_print="dyed at 5%"), printed(after_print="dyed at 5"), VOID),
    "work after printing left out": (text(), printed(after_print=None), VOID),
    # what a purchaser of printed parts states of a good piece
    "a surface texture first said": (text(), printed(surface_texture="Ra 12.5 µm"), ASK),
    "a repair first permitted": (text(), printed(repair="cracks up to 5 mm glued"), ASK),
    "repair first ruled out": (text(), printed(repair="none"), ASK),
    "imperfections first permitted": (text(), printed(acceptable_imperfections="cracks up to 5 mm"), ASK),
    "all three first said": (text(), printed(surface_texture="as printed", repair="none", acceptable_imperfections="none"), ASK),
    "all three first said of a thicker layer": (text(), printed(layer_mm=0.3, surface_texture="as printed", repair="none"), VOID),
    "a rougher surface": (printed(surface_texture="Ra 1.6 µm"), printed(surface_texture="Ra 16 µm"), VOID),
    "the case of a surface parameter's unit": (printed(surface_texture="Rz 10 µm"), printed(surface_texture="Rz 10 μM"), VOID),
    "a repair of other places": (printed(repair="pores filled, not at the eye"), printed(repair="pores filled, at the eye"), VOID),
    "a repair that was ruled out": (printed(repair="none"), printed(repair="pores filled"), VOID),
    "more is permitted": (printed(acceptable_imperfections="no cracks"), printed(acceptable_imperfections="cracks"), VOID),
    "a stroke in what is permitted": (printed(acceptable_imperfections="strings; no gap"), printed(acceptable_imperfections="strings, no gap"), ASK),
    "the surface texture no more said": (printed(surface_texture="Ra 1.6 µm"), text(), ASK),
    "no repair said any more": (printed(repair="none"), text(), ASK),
    "permitted imperfections no more said": (printed(acceptable_imperfections="no gap"), text(), ASK),
    "one said instead of the other": (printed(repair="none"), printed(acceptable_imperfections="none"), ASK),
    # makers
    "a like second machine in house": (text(), made_by(MAKER, BUREAU, MAKER | {"id": "bench-2", "name": "Bench B"}), ASK),
    "a second machine of another model": (text(), made_by(MAKER, BUREAU, MAKER | {"id": "bench-2", "machine_model": "Q"}), VOID),
    "a second machine of no noted model": (text(), made_by(MAKER, BUREAU, MAKER | {"id": "bench-2", "machine_model": None}), VOID),
    "a second machine of another process": (text(), made_by(MAKER, BUREAU, MAKER | {"id": "b2", "process": "material jetting"}), VOID),
    "a like machine elsewhere": (text(), made_by(MAKER, BUREAU, MAKER | {"id": "b2", "kind": "bureau"}), VOID),
    "another bureau": (text(), made_by(MAKER, BUREAU | {"id": "south"}), VOID),
    "a maker taken out": (text(), made_by(MAKER), FREE),
    "another machine under the same id": (text(), made_by(MAKER | {"machine_model": "Q"}, BUREAU), VOID),
    "another firm under the same id": (text(), made_by(MAKER, BUREAU | {"name": "Bureau South"}), VOID),
    "the name of a machine in house": (text(), made_by(MAKER | {"name": "Old bench"}, BUREAU), ASK),
    "the spelling of a firm": (text(), made_by(MAKER, BUREAU | {"name": "bureau, north"}), FREE),
    "makers that exchange processes": (
        text(), made_by(MAKER | {"process": BUREAU["process"]}, BUREAU | {"process": MAKER["process"]}), VOID,
    ),
    # fire
    "another requirement set": (text(), part_with(fire=PART["fire"] | {"requirement_set": "R1"}), VOID),
    "another wall": (text(), part_with(fire=PART["fire"] | {"thinnest_wall_mm": 1.5}), VOID),
    "no requirement set any more": (text(), part_with(fire=None), VOID),
    # papers
    "a certificate added": (text(), of_material(certificates=(*MATERIAL["certificates"], CERTIFICATE | {"reference": "C-2"})), FREE),
    "a fire report added": (text(), of_material(fire_tests=(REPORT, REPORT | {"report": "F-2"})), FREE),
    "a certificate taken out": (text(), of_material(certificates=(CERTIFICATE,)), ASK),
    "the fire report taken out": (text(), of_material(fire_tests=()), ASK),
    "the fire report swapped": (text(), report(sha256="e" * 64), ASK),
    "a weaker inspection document": (text(), certificate(type="2.1"), ASK),
    "a weaker hazard level": (text(), report(hazard_level="HL1"), ASK),
    "an older edition": (text(), report(standard="EN 45545-2:2013"), ASK),
    "another laboratory": (text(), report(laboratory="Other lab"), ASK),
    "the report prolonged": (text(), report(valid_until="2040-01-01"), ASK),
    # checks
    "tighter above": (text(), checked(plus_mm=0.1), ASK),
    "tighter on both sides": (text(), checked(plus_mm=0.1, minus_mm=0.1), ASK),
    "another nominal size within the old band": (text(), checked(nominal_mm=10.1, plus_mm=0.1, minus_mm=0.1), ASK),
    "wider": (text(), checked(plus_mm=0.3), VOID),
    "tighter below, wider above": (text(), checked(plus_mm=0.3, minus_mm=0.1), VOID),
    "moved": (text(), checked(nominal_mm=10.1), VOID),
    "a check added": (text(), part_with(checks=(CHECK, CHECK | {"name": "Collar"})), ASK),
    "a check left out": (text(), part_with(checks=()), VOID),
    "measured otherwise": (text(), checked(measured_with="caliper"), ASK),
    "measured on every piece from now on": (text(), checked(sample="every"), ASK),
    "measured on fewer pieces": (checked(sample=5), checked(sample=2), ASK),
    "the gauge's spelling": (text(), checked(measured_with="Pin-gauge"), FREE),
    # the folder
    "a caution turned round": (text(), noted(cautions="- Do heat above 60 °C."), ASK),
    "a caution's figure": (text(), noted(cautions="- Do not heat above 90 °C."), ASK),
    "a caution left out": (text(), noted(cautions=""), ASK),
    "a caution hidden as a link": (noted(cautions="Never heat it"), noted(cautions="[Never]: # (heat it)"), ASK),
    "a caution hidden as a comment": (text(), noted(cautions="<!-- - Do not heat above 60 °C. -->"), ASK),
    "a caution's spelling": (noted(cautions="- do not lever it"), noted(cautions="- Do not lever it!"), ASK),
    "a caution turned round by its points": (noted(cautions="- Do not lever it."), noted(cautions="- Do not. Lever it."), ASK),
    "another step": (text(), noted(steps=NOTES.steps + "\n3. Tighten."), ASK),
    "steps exchanged": (text(), noted(steps="1. Push it on.\n2. Turn it off."), ASK),
    "another check afterwards": (text(), noted(check_after_fitting="- It does not turn."), ASK),
    "another tool": (text(), noted(tools="- Spanner 10"), ASK),
    "words under another heading": (text(), noted(more="### Warning\n\nHot."), ASK),
    "another drawing": (text(), text(beside=replace(FOLDER, documents=(("drawing.pdf", "9" * 64),))), ASK),
    "no drawing any more": (text(), text(beside=replace(FOLDER, documents=())), ASK),
    "a document added": (text(), text(beside=replace(FOLDER, documents=(*FOLDER.documents, ("a.pdf", "9" * 64)))), FREE),
    "another part's photo": (text(), text(beside=replace(FOLDER, photos=(("front.webp", "9" * 64),))), ASK),
    "a photo added": (text(), text(beside=replace(FOLDER, photos=(*FOLDER.photos, ("a.webp", "9" * 64)))), ASK),
    "a photo taken out": (text(), text(beside=replace(FOLDER, photos=())), ASK),
    "other acceptance minutes": (text(), text(beside=replace(FOLDER, evidence=(FOLDER.evidence[0]._replace(sha256="9" * 64),))), VOID),
    "no acceptance minutes any more": (text(), text(beside=replace(FOLDER, evidence=())), VOID),
}  # fmt: skip


@pytest.mark.parametrize("name", BY_HAND)
def test_the_table_says_what_an_engineer_would(name):
    before, after, means = BY_HAND[name]
    found = part_changes(before, after)
    assert found, "nothing has changed"
    assert max(list(Means).index(each.means) for each in found) == list(Means).index(means), found
    assert bool(part_voids(before, after)) is (means is VOID)


def test_every_row_of_the_table_is_of_use():
    """But for those of places, which test_canonical.py and test_bound_figures.py try, and of the statement below."""
    said = {change.reason for before, after, _ in BY_HAND.values() for change in part_changes(before, after)}
    elsewhere = {"place noted otherwise", "place asks otherwise", "other figures", "another amount", "another statement", "statement noted otherwise"}
    assert {rule.reason for rule in TABLE} - elsewhere == said


STATED = FireExemption.model_validate_json(
    '{"reference": "FE 7", "by": "x", "on": "2026-01-02", "open_ended": true, "evidence": {"file": "documents/s.pdf", "sha256": "%s"}}' % ("5" * 64)
)


@pytest.mark.parametrize(
    ("change", "means"),
    [({"reference": "FE 8"}, VOID), ({"by": "y"}, ASK), ({"open_ended": False, "valid_until": "2030-01-01"}, ASK), (None, VOID)],
)
def test_the_fire_engineers_statement(change, means):
    said = STATED.model_dump(mode="json")
    before = part_with(fire=PART["fire"] | {"exemption": said})
    after = part_with(fire=PART["fire"] | {"exemption": said | change if change is not None else None})
    assert {each.means for each in part_changes(before, after)} >= {means}
    assert bool(part_voids(before, after)) is (means is VOID)
    assert part_voids(part_with(), before), "a statement instead of a report is another case"


def test_a_line_that_no_row_knows_is_void():
    assert part_voids(text(), text() + "weather: 1\n")
    assert part_voids(text() + "weather: 1\n", text())
    assert part_voids(text(), text().replace('safety role: "none"\n', ""))


def test_text_voids_looks_at_places_too():
    here = text() + 'at "A1" "cab" area: "interior"\nat "A1" "cab" name: "Cab"\n'
    assert not text_voids(here, here.replace('"Cab"', '"Cabin"'))
    assert text_voids(here, here.replace('"interior"', '"exterior"'))
    assert text_voids(here, here.replace('at "A1" "cab"', 'at "B2" "cab"'))
