"""What the fire standard asks: hazard levels of EN 45545-2, and which report answers."""

from datetime import date

import pytest

from generator.records.fire import Fire, FireTest, HazardLevel
from generator.records.fleets import DesignCategory, Fleet
from generator.rules.fire import FireNeed, fire_need, hazard_level, report_for

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


def report(**other) -> FireTest:
    return FireTest(
        **{
            "standard": "EN 45545-2:2020", "requirement_set": "R22", "hazard_level": HazardLevel.HL2, "report": "F-1",
            "laboratory": "lab", "tested_on": date(2024, 1, 1), "valid_until": date(2029, 1, 1), "thickness_mm": 1.5,
            "file": "documents/f.txt", "sha256": "0" * 64,
        } | other
    )  # fmt: skip


NEED = FireNeed("R22", HazardLevel.HL2, 1.5)


@pytest.mark.parametrize(
    ("other", "answers"),
    [
        ({}, True),
        ({"hazard_level": HazardLevel.HL3}, True),
        ({"hazard_level": HazardLevel.HL1}, False),
        ({"requirement_set": "R23"}, False),
        ({"requirement_set": "R2"}, False),
        ({"thickness_mm": 1.5}, True),  # the specimen as thick as the thinnest wall
        ({"thickness_mm": 1.0}, True),
        ({"thickness_mm": 1.51}, False),  # a part thinner than the specimen is not covered
    ],
)
def test_which_report_answers(other, answers):
    assert (report_for(NEED, [report(**other)]) is not None) is answers


def test_the_report_that_lasts_longest_counts():
    reports = [
        report(report="old", valid_until=date(2027, 1, 1)),
        report(),
        report(report="nearly", valid_until=date(2028, 12, 31)),
    ]
    found = report_for(NEED, reports)
    assert found is not None
    assert found.report == "F-1"


def test_a_report_without_an_end_counts_only_where_that_is_said():
    forgotten, endless = (
        report(report="forgotten", valid_until=None),
        report(report="endless", valid_until=None, open_ended=True),
    )
    chosen = report_for(NEED, [forgotten, report()])
    assert chosen is not None
    assert chosen.report == "F-1"
    chosen = report_for(NEED, [endless, report(), forgotten])
    assert chosen is not None
    assert chosen.report == "endless"


def test_no_choice_of_a_set_is_no_need():
    assert fire_need(None, fleet(1, "N")) is None
    fire = Fire(requirement_set="R22", thinnest_wall_mm=2.0, chosen_by="fire-engineer", reason="small")
    assert fire_need(fire, fleet(3, "S")) == FireNeed("R22", HazardLevel.HL3, 2.0)
