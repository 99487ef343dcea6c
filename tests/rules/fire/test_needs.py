"""What the fire standard asks: hazard levels of EN 45545-2, and which set belongs to which place."""

import pytest

from generator.reading.standards import shipped_standard
from generator.records.fire import AsksNothing, Fire
from generator.records.fleets import Area, DesignCategory, FireRule, Fleet
from generator.rules.fire.needs import fire_need, hazard_level, misfits

# EN 45545-2:2020 Table 1, from memory; check against your own copy of the standard.
TABLE_1 = {
    1: {"N": "HL1", "A": "HL1", "D": "HL1", "S": "HL2"},
    2: {"N": "HL2", "A": "HL2", "D": "HL2", "S": "HL2"},
    3: {"N": "HL2", "A": "HL2", "D": "HL2", "S": "HL3"},
    4: {"N": "HL3", "A": "HL3", "D": "HL3", "S": "HL3"},
}


def fleet(operation: int, design: str) -> Fleet:
    return Fleet(
        id="A1", name="A1", vehicles=("1",), in_service_since=2000, operation_category=operation,
        design_category=DesignCategory(design), places=(),
    )  # fmt: skip


@pytest.mark.parametrize("operation", TABLE_1)
@pytest.mark.parametrize("design", "NADS")
def test_table_1(operation, design):
    assert hazard_level(fleet(operation, design)) == TABLE_1[operation][design]


@pytest.mark.parametrize("design", "NADS")
def test_a_harder_operation_never_asks_for_less(design):
    # A law of the table, whatever its values: longer and less escapable tunnels never lower the level.
    levels = [hazard_level(fleet(operation, design)) for operation in (1, 2, 3, 4)]
    assert levels == sorted(levels)


def test_no_choice_of_a_set_is_no_need():
    assert fire_need(None, fleet(1, "N"), shipped_standard()) is None


def test_the_need_is_at_the_level_of_the_fleet_and_by_the_newest_edition_that_we_hold():
    need = fire_need(fire("R22"), fleet(3, "S"), shipped_standard())
    assert (need.level, need.edition, need.is_older_rule) == ("HL3", "2020+A1:2023", False)
    assert fire_need(fire("R22", edition="2020"), fleet(3, "S"), shipped_standard()).edition == "2020"
    assert fire_need(fire("R22"), fleet(3, "S"), None).edition is None


@pytest.mark.parametrize("rule", ["DIN 5510-2", "NF F 16-101", "BS 6853"])
def test_an_older_national_rule_is_told(rule):
    old = fleet(1, "N").model_copy(update={"fire_rule": FireRule(rule)})
    assert fire_need(fire("R22"), old, shipped_standard()).is_older_rule


def fire(requirement_set: str, **other) -> Fire:
    return Fire(requirement_set=requirement_set, thinnest_wall_mm=2.0, chosen_by="fire-engineer", reason="small", **other)


# Which set belongs where: certainty B and C, see standards/en-45545-2.yml.
@pytest.mark.parametrize(
    ("chosen", "area", "keys"),
    [
        (fire("R23"), "interior", {"other area"}),
        (fire("R16"), "exterior", {"listed only"}),
        (fire("R15", product="EL1A"), "interior", set()),
        (fire("R22"), "exterior", {"other area"}),
        (fire("R22"), "cavity", set()),
        (fire("R7"), "interior", {"other area"}),
        (fire("R24"), "exterior", set()),
        (fire("R27", edition="2013"), "interior", {"not in edition"}),
        (fire("R26", edition="2013"), "interior", {"listed only"}),
        (fire("R22", edition="2031"), "interior", {"no edition"}),
        (fire("R22", product="IN8"), "interior", {"other product"}),
        (fire("R1", product="IN8"), "interior", set()),
        (fire("R1", product="IN99"), "interior", {"no product"}),
        (fire("R26", product="EL10"), "interior", {"not electrotechnical"}),
        (fire("R26", product="EL10", electrotechnical=True), "interior", set()),
        (fire("R26", electrotechnical=True), "technical cabinet", set()),
        (fire("R22", further_sets=("R23",)), "interior", {"other area"}),
        (Fire(asks_nothing=AsksNothing.NO_REQUIREMENT, chosen_by="f", reason="outside"), "exterior", set()),
        (Fire(asks_nothing=AsksNothing.NON_COMBUSTIBLE, chosen_by="f", reason="brass", product="IN8"), "interior", set()),
        (fire("R16", electrotechnical=True), "exterior", {"listed only"}),
    ],
)  # fmt: skip
def test_which_set_belongs_where(chosen, area, keys):
    assert {each.key for each in misfits(chosen, Area(area), shipped_standard())} == keys


def told(chosen, area):
    return [(each.key, each.field, dict(each.facts)) for each in misfits(chosen, Area(area), shipped_standard())]


def test_what_cannot_be_meant_is_told_with_the_words_that_mend_it():
    """Whoever reads it sees which field, what was written there, and what can be written instead; each by the data file."""
    held, lamp = shipped_standard().set_of, shipped_standard().product("IN8")
    editions = ("2013", "2013+A1:2015", "2020", "2020+A1:2023")
    assert told(fire("R22", edition="2031"), "interior") == [("no edition", "edition", {"edition": "2031", "known": editions})]
    assert told(fire("R1", product="IN99"), "interior") == [("no product", "product", {"product": "IN99"})]
    assert told(fire("R27", edition="2013"), "interior") == [
        ("not in edition", "requirement_set", {"set": "R27", "edition": "2013", "most": "R26"}),
    ]
    areas = ("interior", "technical cabinet", "cavity")
    assert told(fire("R22"), "exterior") == [
        ("other area", "requirement_set", {"set": "R22", "says": held("R22").says, "area": "exterior", "areas": areas}),
    ]
    assert told(fire("R16"), "exterior") == [("listed only", "requirement_set", {"set": "R16", "says": held("R16").says})]
    assert told(fire("R26", product="EL10"), "interior") == [
        ("not electrotechnical", "requirement_set", {"set": "R26", "says": held("R26").says}),
    ]
    assert told(fire("R22", product="IN8"), "interior") == [
        ("other product", "product", {"product": "IN8", "says": lamp.name, "sets": lamp.sets, "chosen": ("R22",)}),
    ]


def test_each_set_that_was_chosen_is_looked_at_also_after_one_that_cannot_be_meant():
    assert [each.key for each in misfits(fire("R27", edition="2013", further_sets=("R23",)), Area("interior"), shipped_standard())] == ["not in edition", "other area"]
    assert [each.key for each in misfits(fire("R26", edition="2013", electrotechnical=True), Area("interior"), shipped_standard())] == []


def test_of_a_set_that_the_tables_do_not_hold_nothing_is_said_here():
    """It asks all the same: where we hold no figures, no report is enough (rules/fire/rows.py)."""
    bare = shipped_standard().model_copy(update={"sets": (), "products": ()})
    assert [*misfits(fire("R22"), Area("exterior"), bare)] == []
    assert [*misfits(fire("R26", electrotechnical=True), Area("exterior"), bare)] == []
