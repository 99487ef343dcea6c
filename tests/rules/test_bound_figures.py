"""An approval binds the limits that its results were held against: a depot's kinder notes of the standard ask first.

Limits of R22 at HL2 (28 % / 300 / 0.9): two sources agree, see generator/standards/en-45545-2.yml.
"""

from dataclasses import replace

import pytest

from generator.records.fire import AsksNothing, HazardLevel
from generator.records.standards import Certainty, FireStandard, Sense, ThicknessRule
from generator.rules.binding import place_changes_of
from generator.rules.bound_figures import amount_lines, figure_lines
from generator.rules.changes import Means
from generator.rules.history import history
from tests.fixtures.tiny import DAY, KNOB, LEVER
from tests.rules.cases import tiny

FOLDER = tiny().folder(KNOB)
STANDARD = tiny().standard
R22 = STANDARD.set_of("R22")


def _lines(standard: FireStandard | None) -> dict[str, object]:
    return dict(figure_lines(tiny().fleets["A1"], FOLDER.part.fire, standard))


def _found(standard: FireStandard | None):
    (permit,) = history(FOLDER.approval, DAY).permits
    return place_changes_of(permit, "A1", "cab", replace(tiny(), standard=standard), FOLDER.part)


def _with_limit(**other) -> FireStandard:
    limits = tuple(each.model_copy(update=other) if each.test == "T01" else each for each in R22.limits)
    return _with_set(limits=limits)


def _with_set(**other) -> FireStandard:
    changed = R22.model_copy(update=other)
    return STANDARD.model_copy(update={"sets": tuple(changed if each.set == "R22" else each for each in STANDARD.sets)})


def _with_method(test: str, **other) -> FireStandard:
    methods = tuple(each.model_copy(update=other) if each.test == test else each for each in STANDARD.methods)
    return STANDARD.model_copy(update={"methods": methods})


def test_each_limit_is_told_as_a_person_reads_it():
    assert _lines(STANDARD) == {
        'figures "R22"': STANDARD.newest,
        'figures "R22" "T01"': "at least 28 %, EN ISO 4589-2, covers thicker, 5 to 100",
        'figures "R22" "T10.03"': "at most 300, EN ISO 5659-2, covers thinner, 1 to 1320",
        'figures "R22" "T12"': "at most 0.9, NF X70-100 or NF X70-100-1 or NF X70-100-2 or EN 17084 method 2, by mass,"
        " 0.001 to 25, 0.5 to 2 g, whatever the infill or layers",
    }


JUDGES = {
    "a kinder limit": _with_limit(HL2=24.0),
    "nothing asked": _with_limit(HL2="-"),
    "no longer sure": _with_limit(certainty=Certainty.UNSURE),
    "a test less": _with_set(limits=R22.limits[1:]),
    "no figures": _with_set(limits=()),
    "another unit": _with_method("T01", unit="vol %"),
    "another way round": _with_method("T10.03", limit_is=Sense.LEAST),
    "another name of the method": _with_method("T01", also=("UL 94",)),
    "any thickness": _with_method("T10.03", thickness=ThicknessRule.BY_MASS),
    "what can be": _with_method("T12", plausible=(0.0, 25.0)),
    "a smaller specimen": _with_method("T12", specimen_mass_g=(0.1, 2.0)),
    "colours alike": _with_method("T01", no_matter=("colour",)),
    "figures of another edition": STANDARD.model_copy(update={"limits_of": ("2013",)}),
    "none": None,
}


@pytest.mark.parametrize("name", JUDGES)
def test_whatever_judges_otherwise_asks_first(name):
    found = _found(JUDGES[name])
    assert found
    assert {each.means for each in found} == {Means.ASK}
    assert {each.reason for each in found} == {"other figures"}


READS = {
    "a source more": _with_limit(source="S9"),
    "surer": _with_limit(certainty=Certainty.READ),
    "another level": _with_limit(HL3=40.0),
    "unsure of another level": _with_limit(certainty={HazardLevel.HL1: Certainty.UNSURE, HazardLevel.HL2: Certainty.AGREED}),
    "another clause": STANDARD.model_copy(update={"clause": "Table 5"}),
    "another set": STANDARD.model_copy(update={"sets": tuple(each for each in STANDARD.sets if each.set == "R22")}),
    "told in other words": _with_method("T01", quantity="index of oxygen"),
}


@pytest.mark.parametrize("name", READS)
def test_what_only_reads_otherwise_changes_nothing(name):
    assert _found(READS[name]) == ()


def _changes_at(catalogue, part):
    (permit,) = history(FOLDER.approval, DAY).permits
    return {each.what: (each.means, each.reason) for each in place_changes_of(permit, "A1", "cab", catalogue, part)}


def test_more_pieces_at_the_place_ask_first():
    """What burns there is the number of pieces times one of them; common practice, no source."""
    more = FOLDER.part.model_copy(update={"fits": tuple(fit.model_copy(update={"per_vehicle": 200}) for fit in FOLDER.part.fits)})
    assert _changes_at(tiny(), more) == {'at "A1" "cab" pieces': (Means.ASK, "another amount")}


def test_what_else_is_fitted_there_is_bound_where_the_word_rests_on_how_little_burns():
    """Another approved part at the place makes the group heavier than the fire engineer saw it; one in design burns nowhere."""
    fire = FOLDER.part.fire.model_copy(update={"requirement_set": None, "asks_nothing": AsksNothing.NO_REQUIREMENT})
    light, lever = FOLDER.part.model_copy(update={"fire": fire}), tiny().folder(LEVER)
    here = lever.part.fits[0].model_copy(update={"fleet": "A1", "place": "cab", "vehicles": ()})
    moved = replace(lever, part=lever.part.model_copy(update={"fits": (here,)}))
    beside = f'beside "{LEVER}"'

    def told(part, other):
        catalogue = replace(tiny(), parts=tuple(other if each.number == LEVER else each for each in tiny().parts))
        return dict(amount_lines(part, "A1", "cab", catalogue))

    assert told(light, moved)[beside] == here.per_vehicle
    assert beside not in told(FOLDER.part, moved)  # judged by results, whatever it weighs
    assert beside not in told(light, replace(moved, approval=None))
    nowhere = replace(lever, part=lever.part.model_copy(update={"fits": (here.model_copy(update={"place": "door"}),)}))
    assert beside not in told(light, nowhere)


def test_nothing_is_held_where_nothing_is_judged_by_results():
    fire, fleet = FOLDER.part.fire, tiny().fleets["A1"]
    older = fleet.model_copy(update={"fire_rule": "DIN 5510-2"})
    nothing = fire.model_copy(update={"requirement_set": None, "asks_nothing": "no requirement"})
    assert [*figure_lines(older, fire, STANDARD), *figure_lines(fleet, nothing, STANDARD), *figure_lines(fleet, None, STANDARD)] == []
