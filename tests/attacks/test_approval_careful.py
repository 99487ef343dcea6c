"""Careful changes after an approval: what an engineer would let pass or ask about, and what voids it all the same."""

import shutil

import pytest

from tests.attacks import approval_depot as depot
from tests.attacks.approval_depot import (
    CAP,
    NO,
    approve,
    asks,
    fits,
    folder,
    history,
    kept,
    makers,
    material,
    part,
    refuses,
)


def checks(of, **changes):
    def mutate(catalogue):
        with part(catalogue) as record:
            next(one for one in record["checks"] if one["name"] == of).update(changes)

    return mutate


def settings(**changes):
    def mutate(catalogue):
        with part(catalogue) as record:
            record["settings"].update(changes)

    return mutate


def properties(**changes):
    def mutate(catalogue):
        with material(catalogue) as record:
            record["properties"].update(changes)

    return mutate


def noted(**changes):
    def mutate(catalogue):
        with part(catalogue) as record:
            record.update(changes)

    return mutate


# Asked about


TIGHTER = {
    "less above": checks("Collar", plus_mm=0.1),
    "less below": checks("Collar", minus_mm=0.1),
    "less on both sides": checks("Height", plus_mm=0.1, minus_mm=0.2),
    "nothing below": checks("Collar", minus_mm=0.0),
    "another nominal within the old band, and tighter": checks(
        "Collar", nominal_mm=35.1, plus_mm=0.05, minus_mm=0.05
    ),
}


@pytest.mark.parametrize("case", TIGHTER)
def test_a_tightened_tolerance_is_asked_about(demo, case):
    catalogue = demo()
    TIGHTER[case](catalogue)
    asks(catalogue, "Collar|Height")


WIDER = {
    "more above": checks("Collar", plus_mm=0.3),
    "more below": checks("Collar", minus_mm=0.4),
    "less above and a hair more below": checks("Collar", plus_mm=0.1, minus_mm=0.31),
    "the band moved": checks("Collar", plus_mm=0.4, minus_mm=0.1),
    "the same band about a moved size": checks("Collar", nominal_mm=35.2),
    "tighter, and out of the old band": checks("Collar", nominal_mm=36.0, plus_mm=0.05, minus_mm=0.05),
    "a hundred times wider by a lost point": checks("Collar", plus_mm=20),
    "tighter, measured by eye": checks("Square", plus_mm=0.05, measured_with="eye"),
}


@pytest.mark.parametrize("case", WIDER)
def test_a_tolerance_that_lets_in_what_was_refused_is_not_fitted(demo, case):
    catalogue = demo()
    WIDER[case](catalogue)
    refuses(catalogue, "Collar|Square")


def test_a_tightened_tolerance_does_not_hide_a_widened_one(demo):
    catalogue = demo()
    checks("Height", plus_mm=0.1)(catalogue)
    checks("Collar", plus_mm=1.2)(catalogue)
    assert refuses(catalogue, "Collar").words() == {NO}


def test_a_check_that_is_taken_out_is_not_fitted(demo):
    catalogue = demo()
    with part(catalogue) as record:
        record["checks"] = record["checks"][1:]
    refuses(catalogue, "Square")


def test_two_checks_that_exchange_their_names_are_not_fitted(demo):
    catalogue = demo()
    checks("Collar", name="X")(catalogue)
    checks("Height", name="Collar")(catalogue)
    checks("X", name="Height")(catalogue)
    refuses(catalogue, "Collar|Height")


def with_a_second_machine(catalogue, **other):
    """CAP approved for bench-A alone, with its machine noted; then a second one is added, as bench-C."""
    with part(catalogue, CAP) as record:
        record["makers"] = ["bench-A"]
    with makers(catalogue) as record:
        first = next(one for one in record["makers"] if one["id"] == "bench-A")
        first["machine_model"] = "Enclosed, 280 mm"
        record["makers"].append(
            first | {"id": "bench-C", "name": "bench-C, enclosed printer in hall 3"} | other
        )
    with history(catalogue, CAP) as record:
        depot.cut(record, "documents complete")
    depot.walk(catalogue, CAP, names=["documents complete", "sent to technical review"])
    answer = approve(catalogue, "--despite-warnings", number=CAP)
    assert answer.returncode == 0, answer.stdout + answer.stderr
    fits(catalogue, CAP)
    with part(catalogue, CAP) as record:
        record["makers"] = ["bench-A", "bench-C"]


def test_a_like_second_machine_is_asked_about(demo):
    catalogue = demo(CAP)
    with_a_second_machine(catalogue)
    asks(catalogue, "bench-C|maker", CAP)


@pytest.mark.parametrize(
    "other",
    [
        {"machine_model": "Open frame"},
        {"machine_model": None},
        {"kind": "bureau"},
        {"machine_model": "Enclosed, 280 mm ", "process": "material jetting"},
    ],
    ids=["another model", "no model said", "a bureau", "another process"],
)
def test_a_second_machine_that_is_not_alike_is_void(demo, other):
    catalogue = demo(CAP)
    with_a_second_machine(catalogue, **other)
    assert refuses(catalogue, "bench-C|maker", CAP).words() == {NO}


def test_photos_added_are_asked_about(demo):
    catalogue = demo()
    (other,) = depot.DEMO.glob("parts/TV-0292-*/photos/fitted.webp")
    shutil.copy(other, folder(catalogue) / "photos/another.webp")
    asks(catalogue, "photo|another.webp")


READS_OTHERWISE = {
    "letters' case": (settings(orientation="Wing up, collar level"), "orientation"),
    "spaces": (settings(after_print="blasted clean;  square passed with the 7 mm gauge"), "after print"),
    "a full stop": (settings(orientation="wing up, collar level."), "orientation"),
}


@pytest.mark.parametrize("case", READS_OTHERWISE)
def test_a_setting_whose_spelling_was_mended_is_asked_about(demo, case):
    # how it is printed: whether it says the same is for who approved it, and it is no other part
    catalogue = demo()
    mutate, line = READS_OTHERWISE[case]
    mutate(catalogue)
    asks(catalogue, line)


# Told, and nothing more


def reordered(catalogue):
    with part(catalogue) as record:
        record["checks"].reverse()


FREE = {
    "the demand, the shelf and the symptoms": noted(
        yearly_demand=3, symptoms=["it is gone"], stock={"place": "Rack Z", "on_shelf": 1}
    ),
    "other names": noted(other_names=["twister"]),
    "a property noted for the first time": properties(tensile_modulus_mpa=2050),
    "checks in another order": reordered,
}


@pytest.mark.parametrize("case", FREE)
def test_what_an_approver_need_not_hear_of_stays_fitted(demo, case):
    catalogue = demo()
    FREE[case](catalogue)
    fits(catalogue)


def test_a_property_that_was_not_said_and_is_now(demo):
    catalogue = demo()
    with material(catalogue) as record:
        del record["properties"]["heat_deflection_c"]
    with history(catalogue) as record:
        depot.cut(record, "documents complete")
    depot.walk(catalogue, names=["documents complete", "sent to technical review"])
    assert approve(catalogue).returncode == 0
    properties(heat_deflection_c=165)(catalogue)
    fits(catalogue)


@pytest.mark.parametrize(
    "mutate",
    [
        properties(tensile_strength_z_mpa=12),
        properties(tensile_strength_mpa=440),
        lambda c: deleted(c, "limiting_oxygen_index_percent"),
    ],
    ids=["weaker", "ten times stronger", "taken out"],
)
def test_a_property_that_changed_is_void(demo, mutate):
    catalogue = demo()
    mutate(catalogue)
    refuses(catalogue, "material|tensile|oxygen")


def deleted(catalogue, name):
    with material(catalogue) as record:
        del record["properties"][name]


def test_a_maker_taken_out_stays_fitted(demo):
    catalogue = demo(CAP)
    with part(catalogue, CAP) as record:
        record["makers"] = ["bench-A"]
    fits(catalogue, CAP)


def test_a_document_that_is_added_stays_fitted(demo):
    catalogue = demo()
    kept(folder(catalogue), "documents/spare-list.txt", "Spare list\n")
    fits(catalogue)


def test_a_newer_certificate_beside_the_old_one_stays_fitted(demo):
    catalogue = demo()
    with material(catalogue) as record:
        new = record["certificates"][0] | kept(catalogue / "materials", "documents/new.txt", "New lot.\n")
        record["certificates"].append(new | {"reference": "LS 26-400", "issued_on": "2026-10-01"})
    fits(catalogue)


def test_a_newer_certificate_does_not_stand_in_for_one_that_lapsed(demo):
    catalogue = demo()
    with material(catalogue) as record:
        record["certificates"] = [
            record["certificates"][0] | {"open_ended": False, "valid_until": "2026-12-31"}
        ]
    with history(catalogue) as record:
        depot.cut(record, "documents complete")
    depot.walk(catalogue, names=["documents complete", "sent to technical review"])
    assert approve(catalogue).returncode == 0
    fits(catalogue)
    with material(catalogue) as record:
        new = record["certificates"][0] | kept(catalogue / "materials", "documents/new.txt", "New lot.\n")
        record["certificates"].append(new | {"reference": "LS 26-400", "valid_until": "2039-12-31"})
    refuses(catalogue, "certificate", day="2027-02-01")


@pytest.mark.parametrize(
    "value",
    [
        "wing down, collar level",
        "wing up, collar not level",
        "wing up collar level, tilted 45°",
        "wing up, coIlar level",
    ],
)
def test_an_orientation_in_other_words_is_not_fitted(demo, value):
    catalogue = demo()
    settings(orientation=value)(catalogue)
    refuses(catalogue, "orientation")


@pytest.mark.parametrize("value", ["2 4 mm", "24 mm", "-2.4 mm", "2.4 MM, not 2.4 mm", "2.4 µm"])
def test_a_mended_spelling_is_no_other_number(demo, value):
    # punctuation and spaces alone, and yet another thing
    catalogue = demo()
    settings(after_print="filed to 2.4 mm")(catalogue)
    with history(catalogue) as record:
        depot.cut(record, "documents complete")
    depot.walk(catalogue, names=["documents complete", "sent to technical review"])
    assert approve(catalogue).returncode == 0
    fits(catalogue)
    settings(after_print=f"filed to {value}")(catalogue)
    refuses(catalogue, "after print")
