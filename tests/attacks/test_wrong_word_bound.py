"""What an approval was given for, changed afterwards: no other record, fleet or place may pass for it."""

import copy
import hashlib
import json

import pytest

from tests.attacks import wrong_word_depot as depot
from tests.attacks.wrong_word_depot import FIT, FLEETS, PART, way

CAB = "Driver's cab"
INTERIOR = "A1:11-14:cab,door"
BOTH = ["material extrusion", "powder bed fusion"]


def approved(history, **part):
    """A part of which `spares approve` itself bound the record."""
    catalogue = history.catalogue(way(), **part)
    answer = depot.approve(catalogue, "--despite-warnings")
    assert answer.returncode == 0, answer.stdout + answer.stderr
    return catalogue


# Records that read alike


def check(name, size, tool=None):
    record = {"name": name, "nominal_mm": size, "plus_mm": 0.1, "minus_mm": 0}
    return record | ({"measured_with": tool} if tool else {})


def settings(**values):
    return {"settings": PART["settings"] | values}


READ_ALIKE = {
    "a check whose name tells another check": (
        {"checks": [check("Bore: 6 +0.1 -0 mm, caliper", 9, "gauge")]},
        {"checks": [check("Bore", 6, "caliper: 9 +0.1 -0 mm, gauge")]},
    ),
    "a gauge that tells another check": (
        {"checks": [check("Rim", 8, "caliper: 7 +0.1 -0 mm, gauge")]},
        {"checks": [check("Rim: 8 +0.1 -0 mm, caliper", 7, "gauge")]},
    ),
    # holds already: two of these have never read alike, but may once values are quoted or escaped
    "a quote in the name of a check": (
        {"checks": [check('Bore": 6 +0.1 -0 mm, "caliper', 9, "x")]},
        {"checks": [check("Bore", 6, 'caliper": 9 +0.1 -0 mm, "x')]},
    ),
    "support left out and the word none": (settings(), settings(support="none")),
    "the word none and support left out": (settings(support="none"), settings()),
    "after print left out and the word none": (settings(), settings(after_print="none")),
    "after print left out and the word null": (settings(), settings(after_print="null")),
    "a quoted word and the word": (settings(after_print='"dried"'), settings(after_print="dried")),
    "an escape and what it stands for": (settings(after_print="a\\u0020b"), settings(after_print="a b")),
    "a doubled backslash and one": (settings(after_print="a\\\\b"), settings(after_print="a\\b")),
}


@pytest.mark.parametrize("case", READ_ALIKE)
def test_a_record_that_reads_like_the_approved_one_is_not_fitted(history, case):
    first, second = READ_ALIKE[case]
    catalogue = approved(history, **first)
    depot.write_part(catalogue, **second)
    assert depot.Words(catalogue).fitted() == set()


def test_the_approved_record_itself_is_fitted_whatever_is_written_in_it(history):  # holds already
    odd = {
        "checks": [check('Bore": 6, "ø \\', 6, "caliper, then gauge")],
        **settings(support='none, "null" \\n # no'),
    }
    catalogue = approved(history, **odd)
    assert depot.Words(catalogue).on(11) == {FIT}
    depot.write_part(catalogue, **odd, yearly_demand=7)  # what was not approved does not count
    assert depot.Words(catalogue).on(11) == {FIT}


def write_makers(catalogue, bench, bureau):
    makers = [
        {
            "id": name,
            "name": name,
            "kind": "bureau",
            "process": process,
            "build_volume_mm": [200, 200, 200],
            "materials": ["petg"],
            "lead_time_days": 2,
            "price": {"per_gram": 0.1},
            "order_at": "print counter",
        }
        for name, process in (("bench", bench), ("bureau", bureau))
    ]
    (catalogue / "makers.yml").write_text(json.dumps({"makers": makers}))


def test_two_makers_cannot_swap_their_processes(history):
    catalogue = history.catalogue(way(), makers=["bench", "bureau"])
    depot.petg(catalogue, processes=BOTH, tested_too="powder bed fusion")
    write_makers(catalogue, *BOTH)
    assert depot.approve(catalogue, "--despite-warnings").returncode == 0
    assert depot.Words(catalogue).on(11) == {FIT}
    write_makers(catalogue, *reversed(BOTH))
    assert depot.Words(catalogue).fitted() == set()


def test_material_of_another_family_that_reads_alike_is_not_fitted(history):
    catalogue = history.catalogue(way())
    depot.petg(catalogue, properties={})
    assert depot.approve(catalogue).returncode == 0
    assert depot.Words(catalogue).on(11) == {FIT}
    depot.petg(catalogue, properties={}, family="PETG\u00a0")  # an unseen space
    wide = depot.Words(catalogue)
    depot.petg(catalogue, properties={}, family="none")
    assert depot.Words(catalogue).fitted() == set()
    assert wide.fitted() == set() or wide.on(11) == {FIT}  # folded or refused, but never a fall


OLD_FORM = """spares fingerprint: 1
number: EX-0001
revision: A
mesh sha256: {mesh}
mesh units: none
safety role: none
material: petg
material family: PETG
material density g/cm3: 1.27
material tensile strength mpa: 43
material tensile strength z mpa: none
material tensile modulus mpa: none
material heat deflection c: none
material limiting oxygen index percent: none
makers: bench
processes: material extrusion
setting orientation: flat
setting layer mm: 0.2
setting wall mm: none
setting infill percent: 100
setting support: none
setting after print: none
fire requirement set: R22
thinnest wall mm: 1.5
check Bore: 6 +0.1 -0 mm, caliper
"""


def test_an_approval_in_the_old_form_lets_no_record_pass_that_reads_alike(history, permit):
    catalogue = history.catalogue(way())
    mesh = hashlib.sha256((depot.folder_of(catalogue) / "model.stl").read_bytes()).hexdigest()
    text = OLD_FORM.format(mesh=mesh)
    old = permit() | {"approved_as": text, "fingerprint": hashlib.sha256(text.encode()).hexdigest()}
    depot.write_events(catalogue, [*way(), old])
    depot.write_part(catalogue, **settings(support="none"))
    assert depot.Words(catalogue).fitted() == set()


# Fleets and places


def fleets(**of_a1):
    changed = copy.deepcopy(FLEETS)
    changed[0] |= of_a1
    return changed


def places(first=None, second=None):
    changed = fleets()
    changed[0]["places"][0] |= first or {}
    changed[0]["places"][1] |= second or {}
    return changed


def swapped():
    first, second = copy.deepcopy(FLEETS)
    first["id"], second["id"] = "B2", "A1"
    first["places"], second["places"] = second["places"], first["places"]
    first["vehicles"], second["vehicles"] = second["vehicles"], first["vehicles"]
    return [second, first]


CHANGED_FLEETS = {
    "operation category, kinder": fleets(operation_category=1),
    "operation category, harder": fleets(operation_category=4),  # holds already
    "operation category, of the same hazard level": fleets(operation_category=3),
    "design category, of the same hazard level": fleets(design_category="D"),
    "operation and design category": fleets(operation_category=1, design_category="A"),
    "a fleet of another name and age": fleets(name="A1 tram", in_service_since=2015),
    "a fleet of another name": fleets(name="A1 tram"),
    "two fleets that swapped their ids": swapped(),
}
CHANGED_PLACES = {
    "interior to exterior": places({"area": "exterior"}),
    "another name": places({"name": "Roof"}),
    "two places that swapped their names": places({"name": "Entrance door"}, {"name": CAB}),
}


def cab_and_all(words):
    """Whether the cab of A1 says Fit it, whatever it is called by now."""
    return {place for fleet, _, place, _, word, _ in words.verdicts if fleet == "A1" and word == FIT}


@pytest.fixture(scope="module")
def two_revisions(history, permit):
    """Revision B is approved on A1 and fits; revision A, approved there too, lies on the shelf."""
    catalogue = history.catalogue([*way(), permit("A", INTERIOR)], label="A")
    depot.write_part(catalogue, revision="B", stock={"place": "R1", "on_shelf": 3, "revision": "A"})
    used_up = ("--older-stock", "A:use up:2027-12-31")
    assert depot.approve(catalogue, *used_up, on="2026-05-15", scope=INTERIOR).returncode == 0
    words = depot.Words(catalogue)
    assert words.on(11) == words.on(11, label="A") == {FIT}
    yield catalogue
    depot.write_fleets(catalogue, FLEETS)


@pytest.mark.parametrize("case", CHANGED_FLEETS)
def test_an_approval_does_not_speak_of_a_fleet_that_became_another(two_revisions, case):
    depot.write_fleets(two_revisions, CHANGED_FLEETS[case])
    assert cab_and_all(depot.Words(two_revisions)) == set()


@pytest.mark.parametrize("case", CHANGED_PLACES)
def test_an_approval_does_not_speak_of_a_place_that_became_another(two_revisions, case):
    depot.write_fleets(two_revisions, CHANGED_PLACES[case])
    touched = {
        place["name"]
        for place, old in zip(CHANGED_PLACES[case][0]["places"], FLEETS[0]["places"], strict=False)
        if place != old
    }
    assert cab_and_all(depot.Words(two_revisions)) & touched == set()


def test_a_place_made_kinder_on_the_exterior_is_not_fitted_either(history):
    fits = [{"fleet": "B2", "place": "bogie", "per_vehicle": 1}]
    catalogue = history.catalogue(way(), fits=fits, fire=PART["fire"] | {"requirement_set": "R24"})  # the set of either area
    assert depot.approve(catalogue, scope="B2:21-22:bogie").returncode == 0
    assert depot.Words(catalogue).on(21, "Bogie") == {FIT}
    changed = copy.deepcopy(FLEETS)
    changed[1]["places"][1]["area"] = "interior"
    depot.write_fleets(catalogue, changed)
    assert depot.Words(catalogue).fitted() == set()


def grown():
    """Everything that an approval for A1, cab and door, does not speak of."""
    more = copy.deepcopy(FLEETS)
    more[0]["vehicles"] = ["11-15"]
    more[0]["places"].append({"id": "roof", "name": "Roof", "area": "exterior", "largest_mm": 300})
    more[1] |= {"operation_category": 3, "name": "B2 tram"}
    more[1]["places"][0] |= {"name": "Cab", "area": "cavity"}
    more.insert(0, {**copy.deepcopy(FLEETS[1]), "id": "C3", "name": "C3 wagon", "vehicles": ["31"]})
    return more


def test_new_fleets_places_and_vehicles_disturb_no_approval_elsewhere(two_revisions):  # holds already
    depot.write_fleets(two_revisions, grown())
    words = depot.Words(two_revisions)
    assert words.on(11) == words.on(14, "Entrance door") == words.on(11, label="A") == {FIT}
    assert all(vehicle <= 14 for vehicle, _ in words.fitted())
    depot.write_fleets(two_revisions, FLEETS)
    assert depot.Words(two_revisions).on(11) == {FIT}


def test_an_approval_for_all_vehicles_and_places_does_not_grow_with_the_fleet(history):  # holds already
    # written by hand: the command writes the vehicles and places out
    catalogue = approved(history)
    *before, event = depot.read_events(catalogue)
    depot.write_events(catalogue, [*before, event | {"scope": [{"fleet": "A1"}]}])
    depot.write_fleets(catalogue, grown())
    fits = [*PART["fits"], {"fleet": "A1", "place": "roof", "per_vehicle": 1}]
    depot.write_part(catalogue, fits=fits)
    fitted = depot.Words(catalogue).fitted()
    assert not {one for one in fitted if one[0] == 15 or one[1] == "Roof"}, fitted


# Open ends


def words_with(history, certificate=None, test=None):
    catalogue = history.catalogue(way())
    depot.petg(catalogue, certificate, test)
    depot.approve(catalogue, "--despite-warnings")  # it binds the papers; may be refused: then nothing is fitted
    return depot.Words(catalogue)


@pytest.mark.parametrize(
    "paper",
    [
        {"valid_until": "2026-09-30"},
        {"valid_until": None},
        {"valid_until": None, "open_ended": False},
        {"valid_until": "2026-09-30", "open_ended": True},
    ],
    ids=["lapsed", "line taken out", "open end denied", "lapsed and open"],
)
def test_a_paper_without_a_day_that_holds_or_an_open_end_is_no_paper(history, paper):
    assert words_with(history, certificate=paper).fitted() == set()
    assert words_with(history, test=paper).fitted() == set()


def test_a_paper_that_says_that_it_has_no_end_holds(history):
    opened = {"valid_until": None, "open_ended": True}
    catalogue = history.catalogue(way())
    depot.petg(catalogue, opened, opened)
    assert depot.approve(catalogue).returncode == 0
    assert depot.Words(catalogue).on(11) == {FIT}


@pytest.fixture(scope="module")
def exempted(history):
    """Approved with a fire engineer's statement in place of a report."""

    def word(**days):
        catalogue = history.catalogue(way())  # anew each time: a record once seen cannot be unsaid
        folder = depot.folder_of(catalogue)
        paper = depot.kept(folder, "documents/statement.txt", "No test is asked.\n")
        depot.petg(catalogue, fire_tests=[])
        exemption = {"reference": "S-1", "by": "fire-engineer", "on": "2026-01-10", "evidence": paper} | days
        depot.write_part(catalogue, fire=PART["fire"] | {"exemption": exemption})
        depot.approve(catalogue, "--despite-warnings")  # may be refused: then nothing is fitted either
        return depot.Words(catalogue).on(11)

    return word


@pytest.mark.parametrize(
    "days",
    [
        {},
        {"open_ended": False},
        {"valid_until": "2026-09-30"},
        {"valid_until": "2026-09-30", "open_ended": True},
        {"valid_until": "2027-12-31", "on": "2027-01-10"},
    ],
    ids=["no day", "open end denied", "lapsed", "lapsed and open", "not yet made"],
)
def test_a_fire_engineers_statement_without_a_day_that_holds_is_none(exempted, days):
    assert FIT not in exempted(**days)


@pytest.mark.parametrize(
    "days", [{"valid_until": "2027-12-31"}, {"open_ended": True}], ids=["a last day", "no end"]
)
def test_a_fire_engineers_statement_that_holds_is_enough(exempted, days):
    assert exempted(**days) == {FIT}
