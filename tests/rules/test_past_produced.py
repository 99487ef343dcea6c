"""What a record of production said stays said: each way to unsay it is told, and what is only added is not."""

import json
from datetime import date
from itertools import combinations, permutations

import pytest

from generator.records.batches import Batch
from generator.records.fitted import FittedRow, Why
from generator.records.lots import Lot
from generator.records.machines import Machine
from generator.records.recalls import Recall
from generator.rules.past_produced import further_of, past_of_lines, pasts_of_record, unsaid_of

NAME = "batches/B-1.yml"
EVENTS = (
    {"on": "2026-01-05", "what": "scrapped", "by": "fitter", "count": 1, "why": "corner lifted"},
    {"on": "2026-01-06", "what": "measured", "by": "fitter", "checks": [
        {"check": "Bore", "values_mm": [6.02, 6.1], "gauge": "P-2", "calibrated_until": "2026-09-30"}]},
    {"on": "2026-01-07", "what": "rejected", "by": "keeper", "why": "cracks"},
)  # fmt: skip


def batch(*events, **other):
    plain = {
        "part": "EX-0001", "revision": "A", "printed_as": "spares print: 1\n" * 9, "fingerprint": "0" * 64, "count": 4, "machine": "M-1",
        "printed_by": "specialist", "lots": ["L-1"], "started": "2026-01-05 08:00", "ended": "2026-01-05 12:00", "events": events,
    }  # fmt: skip
    return pasts_of_record(NAME, Batch.model_validate_json(json.dumps(plain | other)))[NAME]


def told(before, now, name=NAME, merged=()):
    return [(each.key, dict(each.facts).get("event") or dict(each.facts).get("field"), each.path) for each in unsaid_of(name, before, now, merged)]


def test_what_is_only_added_has_lost_nothing():
    for count in range(len(EVENTS) + 1):
        assert told(batch(*EVENTS[:count]), batch(*EVENTS)) == []
    assert told(batch(), batch(grams=12.5, note="a note", up="+z")) == []
    assert told(batch(grams=12.5, note="a note"), batch(grams=13, note=None)) == []


def test_every_way_to_unsay_events_is_told():
    """Of every selection and order of the events only the beginnings that grow are no loss."""
    orders = [order for count in range(4) for some in combinations(EVENTS, count) for order in permutations(some)]
    for before in orders:
        for now in orders:
            assert (told(batch(*before), batch(*now)) == []) == (now[: len(before)] == before), (before, now)


def test_which_way_it_was_unsaid_is_named():
    one, two, three = EVENTS
    assert told(batch(one, two, three), batch(one, two)) == [("gone", 3, ("events", 1))]
    assert told(batch(one, two), batch(one, two | {"on": "2026-01-04"})) == [("changed", 2, ("events", 1))]
    assert told(batch(one, two), batch(two, one)) == [("moved", 2, ("events", 1))]
    assert told(batch(one, three), batch(one, two, three)) == [("typed in", 2, ("events", 1))]
    assert told(batch(one, two), batch()) == [("gone", 1, ("events", -1)), ("gone", 2, ("events", -1))]
    assert told(batch(one, one), batch(one)) == [("gone", 2, ("events", 0))]
    assert told(batch(one), None) == [("record gone", None, ())]


def test_what_a_merge_brought_together_may_stand_before():
    one, two, three = EVENTS
    ours, theirs, both = batch(one, two), batch(one, three), batch(one, two, three)
    merged = {each.own for each in (*ours.events, *theirs.events)}
    assert told(theirs, both) == [("typed in", 2, ("events", 1))]
    assert told(theirs, both, merged=merged) == told(ours, both, merged=merged) == []
    assert told(ours, theirs, merged=merged) == [("gone", 2, ("events", 1))]


@pytest.mark.parametrize(
    ("field", "value"),
    [
        ("part", "EX-0002"), ("revision", "B"), ("printed_as", "spares print: 1\n"), ("fingerprint", "1" * 64), ("count", 5), ("machine", "M-2"),
        ("printed_by", "fitter"), ("lots", ["L-1", "L-2"]), ("started", "2026-01-05 08:01"), ("ended", "2026-01-06 12:00"),
    ],
)  # fmt: skip
def test_the_head_of_a_batch_stays(field, value):
    assert told(batch(), batch(**{field: value})) == [("other", field, (field,))]
    assert told(batch(settings_file={"file": "a", "sha256": "0" * 64}), batch()) == [("other", "settings_file", ("settings_file",))]


def test_a_lot_keeps_its_papers_and_a_recall_what_it_speaks_of():
    paper = {"type": "3.1", "lot": "S-1", "reference": "C-1", "issued_on": "2026-01-01", "file": "documents/c.pdf", "sha256": "0" * 64}

    def lot(**said):
        plain = {"material": "petg", "supplier_lot": "S-1"} | said
        return pasts_of_record("materials/lots/L-1.yml", Lot.model_validate_json(json.dumps(plain)))["materials/lots/L-1.yml"]

    assert told(lot(), lot(inspection_documents=[paper], use_by="2027-01-01", supplier="A supplier")) == []
    assert [each[0] for each in told(lot(inspection_documents=[paper]), lot(inspection_documents=[paper | {"sha256": "1" * 64}]))] == ["other"]
    assert told(lot(use_by="2027-01-01"), lot(use_by="2028-01-01")) == [("other", "use_by", ("use_by",))]
    called = {"what": "called back", "on": "2026-02-01", "by": "keeper", "why": "cracks"}
    one, other = (
        pasts_of_record("recalls/R-1.yml", Recall.model_validate_json(json.dumps(what | {"events": [called]})))["recalls/R-1.yml"]
        for what in ({"lot": "L-1"}, {"part": "EX-0001", "revision": "A"})
    )
    assert told(one, other) == [("other", "lot", ("lot",))]


def test_coupons_are_kept_by_material_and_a_qualification_may_be_renewed():
    def machine(*qualifications):
        plain = {"name": "M", "maker": "bench", "qualifications": qualifications}
        return pasts_of_record("machines/M-1.yml", Machine.model_validate_json(json.dumps(plain)))

    def qualified(material, *days, until="2026-12-31"):
        coupons = [{"on": day, "property": "density, g/cm3", "values": [1.2, 1.3], "by": "keeper"} for day in days]
        return {"material": material, "qualified_on": "2026-01-01", "valid_until": until, "by": "keeper", "coupons": coupons}

    before = machine(qualified("petg", "2026-01-01"), qualified("pa", "2026-01-02"))
    now = machine(qualified("pa", "2026-01-02"), qualified("petg", "2026-01-01", "2026-03-01", until="2027-12-31"))
    assert {name: unsaid_of(name, before[name], now[name]) for name in before} == {"machines/M-1.yml#petg": (), "machines/M-1.yml#pa": ()}
    assert [each.key for name in now for each in unsaid_of(name, now[name], before.get(name))] == ["gone"]
    assert [each.key for each in unsaid_of("machines/M-1.yml#pa", before["machines/M-1.yml#pa"], None)] == ["coupons gone"]
    anew = machine(qualified("petg", "2026-01-01", "2026-02-01"), qualified("petg", "2026-03-01"))
    lost = machine(qualified("petg", "2026-01-01"), qualified("petg", "2026-03-01"))  # of the one that no longer counts
    assert [each.key for name in anew for each in unsaid_of(name, anew[name], lost.get(name))] == ["gone"]


FILE = "fitted/2028.csv"


def row(day, batch="B-1", row="", **other):
    said = {"fleet": "A1", "vehicle": "11", "place": "cab", "position": "", "by": "fitter", "removed_batch": "", "removed": 0, "why": None}
    return FittedRow(**{**said, **other}, day=date.fromisoformat(day), batch=batch, count=1, row=row, file=FILE, line=0)


def lines(*rows):
    return past_of_lines(rows, 0, "")


def test_lines_may_be_added_anywhere_and_stand_in_another_order():
    one, two, three = row("2028-01-01"), row("2028-02-29"), row("2028-03-01", removed_batch="B-2", removed=1, why=Why.WORN)
    for now in permutations((one, two, three)):
        assert told(lines(one, two), lines(*now), FILE) == []
    assert told(lines(one, one, two), lines(two, one), FILE) == []  # a line that says the same counts once, as it is read
    assert told(lines(row("2028-01-01", row="r1")), lines(row("2028-01-01", row="r1"), row("2028-01-02", row="r1")), FILE) == []


def test_a_line_that_is_missing_or_changed_is_told_behind_the_one_before_it():
    one, two, three = row("2028-01-01"), row("2028-02-29"), row("2028-03-01")
    for now, found in [
        ((one, three), [("line gone", None, (0,))]),
        ((two, three), [("line gone", None, (-1,))]),
        ((one, row("2028-02-28"), three), [("line gone", None, (0,))]),
        ((three, one), [("line gone", None, (1,))]),
        ((), [("line gone", None, (-1,))] * 3),
    ]:
        assert told(lines(one, two, three), lines(*now), FILE) == found
    assert [dict(each.facts)["line"] for each in unsaid_of(FILE, lines(one, two, three), lines(one, three))] == [3]
    assert [(each.key, dict(each.facts)["count"]) for each in unsaid_of(FILE, lines(one, two), None)] == [("all gone", 2)]
    assert unsaid_of(FILE, lines(), None) == ()


def test_never_less_is_remembered():
    one, two = EVENTS[:2]
    assert further_of(NAME, batch(one), batch(one, two)) == batch(one, two)
    assert further_of(NAME, batch(one, two), batch(one)) == batch(one, two)
    assert further_of(NAME, None, batch(one)) == batch(one)
    assert further_of(FILE, lines(row("2028-01-01")), lines()) == lines(row("2028-01-01"))
