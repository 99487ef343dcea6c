"""Each table of a standard says where it stands and how sure we are of it; the hazard levels are held to what is known of them."""

from itertools import product

import pytest

from generator.records.fleets import DesignCategory
from generator.rules import standards
from generator.rules.standards import HAZARD_LEVELS, StandardTable

OPERATION = (1, 2, 3, 4)
ROWS = HAZARD_LEVELS.rows
TABLES = [each for each in vars(standards).values() if isinstance(each, StandardTable)]


@pytest.mark.parametrize("table", TABLES, ids=lambda table: f"{table.standard} {table.clause}")
def test_a_table_says_where_it_stands(table):
    assert all((table.standard, table.edition, table.clause, table.says, table.source, table.certainty))


def test_every_category_has_its_hazard_level():
    assert set(ROWS) == set(product(OPERATION, DesignCategory))


@pytest.mark.parametrize("design", DesignCategory)
def test_a_harder_operation_never_asks_for_less(design):
    """EN 45545-2:2020, Table 1; from memory, as facts about it in prose say: in tunnels longer means harder."""
    levels = [ROWS[operation, design] for operation in OPERATION]
    assert levels == sorted(levels)


@pytest.mark.parametrize("operation", OPERATION)
def test_sleeping_cars_never_ask_for_less_than_others(operation):
    assert all(ROWS[operation, DesignCategory.S] >= ROWS[operation, design] for design in DesignCategory)
