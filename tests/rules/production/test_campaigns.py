"""Pieces came off in a campaign: is the recall told that there is not, once for each batch, and nothing where one spoke of it?"""

from dataclasses import replace
from datetime import date
from types import SimpleNamespace

import pytest

from generator.records.fitted import Why
from generator.records.lots import Blocked, Lot
from generator.rules.production.campaigns import campaign_problems
from tests.fixtures.production import batch, depot, recall, row

OFF = row("2026-02-02", off="B-1", why=Why.CAMPAIGN)


@pytest.mark.parametrize(
    ("rows", "recalls", "unread", "told"),
    [
        ((row("2026-02-01", "B-1"), OFF), {}, {}, [(3, "B-1", None)]),
        ((OFF, OFF, OFF), {}, {}, [(2, "B-1", 3)]),
        ((OFF,), {"RC-0001": recall(batch="B-1")}, {}, []),
        ((OFF,), {"RC-0001": recall(lot="L-1")}, {}, []),
        ((OFF,), {"RC-0001": recall(lot="L-1", lifted="2026-07-01")}, {}, []),
        ((OFF,), {"RC-0001": recall(part="EX-0001", revision="A")}, {}, []),
        ((OFF,), {"RC-0001": recall(part="EX-0002", revision="A")}, {}, [(2, "B-1", None)]),
        ((OFF,), {}, {"recalls/RC-0001.yaml": None}, []),  # it may be the one
        ((row("2026-02-02", off="B-1"),), {}, {}, []),  # worn
        ((row("2026-02-02", removed=1, why=Why.CAMPAIGN),), {}, {}, []),  # an original bears no batch
    ],
)
def test_a_campaign_without_a_recall_is_told_once(rows, recalls, unread, told):
    catalogue = depot(*rows, recalls=recalls)
    catalogue = replace(catalogue, production=replace(catalogue.production, unread=unread))
    found = [(each.where.line, dict(each.facts)["batch"], dict(each.facts).get("count")) for each in campaign_problems(catalogue)]
    assert found == told


def test_what_another_record_tells_is_no_lost_recall():
    blocked = Lot(material="petg", supplier_lot="S1", events=(Blocked(what="blocked", on=date(2026, 1, 5), by="fitter", why="x"),))
    assert not list(campaign_problems(depot(OFF, lots={"L-1": blocked})))
    assert not list(campaign_problems(depot(OFF, batches={"B-1": batch().model_copy(update={"revision": "Z"})})))
    catalogue = depot(OFF)
    closed = [replace(each, approval=each.approval.model_copy(update={"events": (*each.approval.events, SimpleNamespace(what="trial closed"))})) if each.number == "EX-0001" else each for each in catalogue.parts]
    assert list(campaign_problems(catalogue))
    assert not list(campaign_problems(replace(catalogue, parts=tuple(closed))))
