"""What an approval binds can only be said of a part that has all of it: material, every maker, model, known form."""

from dataclasses import replace

import pytest

from generator.records.approvals import Scope
from generator.rules.binding import (
    approved_text,
    bound_by,
    changes_since,
    part_text,
    place_changes_of,
    sites_of,
)
from generator.rules.bound_figures import amount_lines
from generator.rules.fingerprint import place_text
from generator.rules.history import history
from tests.fixtures.tiny import DAY, KNOB
from tests.rules.cases import tiny

FOLDER = tiny().folder(KNOB)
PART = FOLDER.part


def test_a_whole_part_has_a_text():
    assert part_text(PART, tiny(), FOLDER).startswith("spares fingerprint: 4\n")


@pytest.mark.parametrize(
    ("catalogue", "folder", "part", "version"),
    [
        (replace(tiny(), materials={}), FOLDER, PART, 2),
        (tiny(), replace(FOLDER, mesh=None), PART, 2),
        (replace(tiny(), makers={}), FOLDER, PART, 2),
        (tiny(), FOLDER, PART.model_copy(update={"makers": ("bench", "gone")}), 2),
        (tiny(), FOLDER, PART, None),
    ],
    ids=["no material", "no model", "no maker", "one maker of two gone", "a form that nobody reads"],
)
def test_what_lacks_something_that_is_bound_has_none(catalogue, folder, part, version):
    assert part_text(part, catalogue, folder, version) is None


SITES = [("A1", "cab"), ("A1", "door"), ("B2", "bogie"), ("B2", "cab")]


def test_each_site_is_bound_once_and_in_one_order():
    """The same approval gives the same fingerprint, in whatever order its places were typed."""
    text = part_text(PART, tiny(), FOLDER)
    told = "".join(
        place_text(
            tiny().fleets[fleet], tiny().place(fleet, place), PART.fire, standard=tiny().standard, amount=amount_lines(PART, fleet, place, tiny())
        )
        for fleet, place in SITES
    )
    assert approved_text(text, SITES[::-1] + SITES[:2], tiny(), PART) == text + told


@pytest.mark.parametrize("site", [("A1", "nowhere"), ("C9", "cab")])
def test_a_site_that_is_not_in_the_catalogue_says_nothing(site):
    assert approved_text("", [site], tiny(), PART) == ""
    (permit,) = history(FOLDER.approval, DAY).permits
    assert place_changes_of(permit, *site, tiny(), PART) is None


def test_a_scope_names_every_place_of_every_fleet_in_it():
    (permit,) = history(FOLDER.approval, DAY).permits
    assert sites_of(permit.event.scope * 2) == (("A1", "cab"), ("A1", "cab"))


def test_nothing_is_bound_of_a_part_that_cannot_be_read():
    permits = history(FOLDER.approval, DAY).permits
    assert bound_by(permits, tiny(), replace(FOLDER, part=None)) == {}
    assert [each.text for each in bound_by(permits, tiny(), replace(FOLDER, mesh=None)).values()] == [None]


def test_what_has_changed_is_told_of_the_part_and_of_its_places():
    thicker = PART.model_copy(update={"settings": PART.settings.model_copy(update={"layer_mm": 0.3})})
    folder = replace(FOLDER, part=thicker)
    harder = tiny().fleets["A1"].model_copy(update={"operation_category": 4})  # HL3: smoke and gases have other limits
    catalogue = replace(tiny(), fleets={**tiny().fleets, "A1": harder})
    (permit,) = history(FOLDER.approval, DAY).permits
    found = changes_since(permit, bound_by([permit], catalogue, folder)[permit.index], catalogue, PART)
    assert [each.what for each in found] == [
        "setting layer mm", 'at "A1" "cab" operation category', 'at "A1" "cab" hazard level',
        'at "A1" "cab" figures "R22" "T01"', 'at "A1" "cab" figures "R22" "T10.03"', 'at "A1" "cab" figures "R22" "T12"',
    ]  # fmt: skip


def test_changes_of_places_are_told_in_one_order():
    (permit,) = history(FOLDER.approval, DAY).permits
    scope = tuple(Scope(fleet=fleet, vehicles=("11",), places=(place,)) for fleet, place in SITES[::-1])
    text = approved_text(part_text(PART, tiny(), FOLDER), SITES, tiny(), PART)
    permit.text = text
    permit.event = permit.event.model_copy(update={"scope": scope})
    renamed = {name: fleet.model_copy(update={"name": f"{name} rebuilt"}) for name, fleet in tiny().fleets.items()}
    catalogue = replace(tiny(), fleets=renamed)
    found = changes_since(permit, bound_by([permit], catalogue, FOLDER)[permit.index], catalogue, PART)
    assert [each.what for each in found] == [f'at "{fleet}" "{place}" fleet' for fleet, place in SITES]
