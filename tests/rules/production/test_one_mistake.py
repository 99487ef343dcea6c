"""One mistake is told once, as what it is: neither buried below what follows from it, nor as another one."""

from dataclasses import replace

import pytest

from generator.reading.catalogue import read_catalogue
from generator.records.fitted import COLUMNS
from generator.rules.production.contradicting import contradictions, line_problems
from generator.rules.production.incomplete import gaps_of
from generator.rules.production.piece import of_any, of_batches
from generator.rules.verdicts import Verdict
from tests.fixtures import produced
from tests.fixtures.prints import BATCH, of_piece, printed_catalogue, with_production
from tests.fixtures.tiny import KNOB

BATCHES = [f"B-{at:04}" for at in range(1, 6)]


@pytest.fixture
def printed(depot):
    """Five batches of twelve, of which three were fitted in 2025 and one came off in 2026; all is counted in both years."""
    produced.produced(depot, "petg")
    for name in BATCHES:
        produced.batch(depot, name, KNOB, events=[*produced.RELEASED, produced.counted("2025-12-20", 10), produced.counted("2026-02-01", 10)])
        on = {"fleet": "A1", "vehicle": f"1{int(name[-1]) % 4 + 1}", "place": "cab", "by": "fitter"}
        produced.fitted(depot, {**on, "day": "2025-09-01", "batch": name, "count": 2, "row": f"{name} on"})
        produced.fitted(depot, {**on, "day": "2026-01-09", "removed_batch": name, "removed": 1, "why": "worn", "row": f"{name} off"})
    return depot


def told(depot):
    catalogue = read_catalogue(depot)
    return [(each.code, each.where.file) for each in catalogue.problems if each.code[:4] in {"BAL0", "FITT"} and each.code != "FITTED06"], catalogue


def spoil(depot, file, was, now):
    text = (depot / file).read_text("utf-8")
    assert was in text
    (depot / file).write_text(text.replace(was, now, 1), "utf-8")


def test_nothing_is_wrong_before(printed):
    assert told(printed)[0] == []
    spoil(printed, "batches/B-0002.yml", "on_shelf: 10", "on_shelf: 9")
    assert told(printed)[0] == [("BAL01", "batches/B-0002.yml")]


@pytest.mark.parametrize("was", [",".join(COLUMNS), "B-0001 on"])
def test_a_year_that_cannot_be_read_is_told_and_no_balance_that_rests_on_it(printed, was):
    spoil(printed, "fitted/2025.csv", was, "day,fleet" if was[0] == "d" else '"B-0001 on')
    assert told(printed)[0] == [("FITTED02", "fitted/2025.csv")]


def test_a_line_that_cannot_be_read_is_told_and_no_balance_of_its_year_or_after(printed):
    spoil(printed, "fitted/2026.csv", "2026-01-09", "2026-01-39")
    spoil(printed, "batches/B-0002.yml", "on_shelf: 10", "on_shelf: 9")
    assert told(printed)[0] == [("BAL01", "batches/B-0002.yml"), ("FITTED03", "fitted/2026.csv")], "the count of 2025 rests on no line of 2026"


def against(depot):
    """What speaks against pieces that came off, in the lists."""
    catalogue = read_catalogue(depot)
    found = contradictions(catalogue)
    return {each.code for told in (*found.off.values(), *found.sitting.values()) for each in told} - {"FITTED06"}, gaps_of(catalogue.production)


UNREAD = {
    "the line by which it went on": ("fitted/2025.csv", "2025-09-01,A1,12,cab,,B-0001", "2025-09-31,A1,12,cab,,B-0001"),
    "from a quote on": ("fitted/2025.csv", "B-0001 on", '"B-0001 on'),
    "the whole year": ("fitted/2025.csv", ",".join(COLUMNS), "day,fleet"),
}


@pytest.mark.parametrize("case", UNREAD)
def test_what_came_off_by_a_line_that_can_be_read_contradicts_none_that_cannot(printed, case):
    assert against(printed)[0] == set()
    spoil(printed, *UNREAD[case])
    found, gaps = against(printed)
    assert (found, [gap.why for gap in gaps]) == (set(), ["unread"])
    assert {code for code, _ in told(printed)[0]} <= {"FITTED02", "FITTED03"}


def test_what_contradicts_the_lines_of_a_year_before_is_told(printed):
    """Lines of a later year cannot have put it on."""
    produced.fitted(printed, {"fleet": "A1", "vehicle": "13", "place": "cab", "by": "fitter", "day": "2025-10-01", "removed_batch": "B-0001", "removed": 1, "why": "worn", "row": "y"})
    assert against(printed)[0] == {"FITTED10"}
    spoil(printed, "fitted/2026.csv", "2026-01-09", "2026-01-39")
    assert against(printed)[0] == {"FITTED10"}
    spoil(printed, "fitted/2025.csv", "2025-09-01", "2025-09-31")
    assert against(printed)[0] == set()


def test_lines_that_are_gone_are_the_mistake_and_not_what_came_off_after(printed):
    spoil(printed, "fitted/2025.csv", next(each for each in (printed / "fitted/2025.csv").read_text("utf-8").splitlines(keepends=True) if "B-0001" in each), "")
    catalogue = read_catalogue(printed)
    assert {each.code for each in line_problems(catalogue) if each.code != "FITTED06"} == {"FITTED10"}
    less = replace(catalogue, production=replace(catalogue.production, shortened=frozenset({"fitted/2025.csv"})))
    assert {each.code for each in line_problems(less)} <= {"FITTED06"}


def test_a_year_that_is_missing_is_told_with_its_batches_and_nothing_of_each(printed):
    (printed / "fitted/2025.csv").unlink()
    found = told(printed)[0]
    assert {code for code, _ in found} <= {"BAL04", "FITTED10"}
    assert ("BAL04", "fitted/2025.csv") in found


def test_more_gone_than_printed_is_told_though_lines_cannot_be_read(printed):
    """It is an error that makes pieces ask: lines that nobody can read put no piece back."""
    produced.fitted(printed, {"fleet": "A1", "vehicle": "12", "place": "cab", "by": "fitter", "day": "2026-01-20", "batch": "B-0002", "count": 30, "row": "x"})
    spoil(printed, "fitted/2026.csv", "2026-01-09", "2026-01-39")
    assert ("FITTED07", "fitted/2026.csv") in told(printed)[0]


def asks(depot, number=KNOB):
    catalogue = read_catalogue(depot)
    return catalogue, of_any(number, "A", catalogue, produced.DAY, of_batches(number, "A", None, catalogue, produced.DAY))


def test_a_batch_with_an_unknown_key_is_said_to_have_a_mistake_and_where(printed):
    with (printed / "batches/B-0003.yml").open("a", encoding="utf-8") as file:
        file.write("colour: red\n")
    lines = len((printed / "batches/B-0003.yml").read_text("utf-8").splitlines())
    catalogue, any_piece = asks(printed)
    assert (any_piece.piece, any_piece.piece_unread) == (None, (f"batches/B-0003.yml:{lines}:1",))
    pieces = of_batches(KNOB, "A", None, catalogue, produced.DAY)
    assert (pieces["B-0003"].piece, pieces["B-0003"].piece_unread) == ("mistaken", (f"batches/B-0003.yml:{lines}:1",))
    assert pieces["B-0002"].piece is None, "nobody knows what the other record would have said"
    assert "B-0003" not in of_batches("EX-0003", "A", None, catalogue, produced.DAY), "of another part it says nothing"


def test_a_piece_of_a_batch_with_a_mistake_asks():
    catalogue = printed_catalogue()
    broken = with_production(catalogue, batches={}, unread={f"batches/{BATCH}.yml": KNOB})
    judgement = of_piece(broken)
    assert (judgement.verdict, judgement.decided_by.step.id) == (Verdict.ASK_FIRST, "piece")
    assert of_piece(with_production(catalogue, batches={})).verdict is Verdict.ASK_FIRST


def test_what_only_disagrees_is_not_said_to_be_unreadable(printed):
    (printed / "recalls").mkdir()
    (printed / "recalls/R-1.yml").write_text("batch: B-0099\nevents:\n  - {what: called back, on: 2026-02-01, by: keeper, why: cracks}\n", "utf-8")
    catalogue, piece = asks(printed)
    assert (piece.piece, piece.piece_unread, piece.piece_astray) == (None, (), ("recalls/R-1.yml",))
    assert [(each.file, each.why) for each in gaps_of(catalogue.production)] == [("recalls/R-1.yml", "astray")]
    (printed / "recalls/R-1.yml").write_text("colour: red\n", "utf-8")
    catalogue, piece = asks(printed)
    assert (piece.piece, len(piece.piece_unread), piece.piece_astray) == (None, 1, ())
    assert [(each.file, each.why) for each in gaps_of(catalogue.production)] == [("recalls/R-1.yml", "unread")]
