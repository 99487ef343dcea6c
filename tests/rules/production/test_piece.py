"""What the fitter reads of a piece whose batch is said, and of one of which nobody can say it."""

from dataclasses import replace
from datetime import date

import pytest

from generator.records.lots import Blocked, Unblocked
from generator.records.problems import Where, doubt, wrong
from generator.rules.canonical import from_record
from generator.rules.facts.fields import PieceFacts
from generator.rules.production.piece import UNKNOWN, first_mistake, mistaken, of_any, of_batch, of_batches
from tests.fixtures.prints import BATCH, LOT, batch_of, printed_catalogue, with_production
from tests.fixtures.production import RELEASED, batch, depot, recall, row
from tests.fixtures.tiny import CLIP, KNOB

DAY = date(2026, 11, 25)
GOOD = printed_catalogue()
ITS_BATCH, ITS_LOT = GOOD.production.batches[BATCH], GOOD.production.lots[LOT]
APPROVED = from_record(next(each.approved_as for each in GOOD.folder(KNOB).approval.events if getattr(each, "approved_as", None)))


def told(batch=ITS_BATCH, catalogue=GOOD, approved=APPROVED, revision="A", day=DAY):
    return of_batch(BATCH, batch, revision, approved, catalogue, day)


def test_a_good_piece_tells_its_batch_its_release_and_its_papers():
    assert told() == PieceFacts(
        piece="known", piece_batch=BATCH, piece_label="A", piece_released="released", piece_released_on=date(2026, 2, 13), piece_revision="own",
        piece_same="yes", piece_papers=("3.1 IC-88 (PG-2231)",), piece_files=("materials/lots/documents/L-0007.txt",),
    )  # fmt: skip
    assert UNKNOWN.piece == "unknown"


def test_a_piece_of_another_label_or_that_nobody_released_is_told_so():
    assert told(revision="B").piece_revision == "other"
    waits = told(ITS_BATCH.model_copy(update={"events": ()}))
    assert (waits.piece_released, waits.piece_released_on) == ("printed", None)
    bare = told(catalogue=with_production(GOOD, lots={LOT: ITS_LOT.model_copy(update={"inspection_documents": ()})}))
    assert (bare.piece_papers, bare.piece_files, bare.piece_unpapered, bare.piece_asked) == ((), (), "none", ("lot document",))


def test_what_was_printed_otherwise_is_told_line_by_line_and_what_only_asks_asks():
    other = batch_of(printed_as=ITS_BATCH.printed_as.replace("layer mm: 0.2", "layer mm: 0.3"))
    found = told(other)
    assert (found.piece_same, found.piece_differs, found.piece_asked) == ("no", ("setting layer mm",), ())
    tighter = told(batch_of(printed_as=ITS_BATCH.printed_as.replace("plus mm: 0.1", "plus mm: 0.05")))
    assert (tighter.piece_same, tighter.piece_differs, tighter.piece_asked) == ("yes", (), ("differs",))
    assert told(other, approved=None).piece_same == "yes"  # without a permit there is nothing to differ from


def test_what_stops_it_is_told_with_its_day_its_reason_and_its_number():
    called = told(catalogue=with_production(GOOD, recalls={"RC-2": recall(batch=BATCH), "RC-1": recall("2026-05-01", lot=LOT)}))
    assert (called.piece_recalled_on, called.piece_recalled_for, called.piece_recall, called.piece_lot) == (date(2026, 5, 1), "cracks", "RC-1", LOT)
    assert (called.piece_blocked, called.piece_lifted) == (None, ())
    wet = Blocked(what="blocked", on=date(2026, 5, 1), by="keeper", why="wet")
    blocked = with_production(GOOD, lots={LOT: ITS_LOT.model_copy(update={"events": (*ITS_LOT.events, wet)})})
    found = told(catalogue=blocked)
    assert (found.piece_recalled_on, found.piece_recalled_for, found.piece_recall, found.piece_lot, found.piece_blocked) == (date(2026, 5, 1), "wet", None, None, LOT)
    over = recall("2026-04-01", lifted="2026-04-03", lot=LOT)
    both = replace(blocked, production=replace(blocked.production, recalls={"RC-1": over}))
    assert told(catalogue=both).piece_lifted == ("RC-1",)  # who lifted it thought of the recall alone
    for recalls in ({"RC-1": over}, {"RC-1": over, "RC-2": recall(batch=BATCH)}):
        assert told(catalogue=with_production(GOOD, recalls=recalls)).piece_lifted == ()
    free = Unblocked(what="unblocked", on=date(2026, 6, 1), by="keeper", why="dried and tested")
    again = with_production(GOOD, lots={LOT: ITS_LOT.model_copy(update={"events": (*ITS_LOT.events, wet, free)})})
    assert told(catalogue=again).piece_blocked is None


def test_a_record_that_says_less_than_it_did_or_cannot_be_read_leaves_the_piece_unknown():
    less = replace(GOOD, production=replace(GOOD.production, rewritten=frozenset({BATCH})))
    assert (told(catalogue=less).piece, told(catalogue=less).piece_less) == (None, (f"batches/{BATCH}.yml",))
    assert told(catalogue=less).piece_batch == BATCH
    other = replace(GOOD, production=replace(GOOD.production, rewritten=frozenset({"B-9"})))
    assert told(catalogue=other).piece == "known"
    unread = replace(GOOD, production=replace(GOOD.production, unread={"batches/B-7.yml": KNOB}))
    assert (told(catalogue=unread).piece, told(catalogue=unread).piece_unread) == (None, ("batches/B-7.yml",))


def any_of(catalogue, pieces=None, number=KNOB, revision="A"):
    return of_any(number, revision, catalogue, DAY, pieces or {})


def test_of_records_that_nobody_relies_on_each_is_told_by_what_is_the_matter():
    unread = {"batches/B-7.yml": KNOB, "batches/B-8.yml": None, "recalls/RC-3.yml": KNOB, "batches/B-9.yml": CLIP, "batches/B-6.yml": KNOB}
    apart = {"recalls/RC-3.yml": "astray", "batches/B-8.yml": "less"}
    catalogue = depot()
    catalogue = replace(catalogue, production=replace(catalogue.production, unread=unread, apart=apart))
    assert any_of(catalogue) == PieceFacts(
        piece=None, piece_unread=("batches/B-6.yml", "batches/B-7.yml"), piece_less=("batches/B-8.yml",), piece_astray=("recalls/RC-3.yml",)
    )  # fmt: skip
    # Of what may be of the part a label can bear the number; a lot's or what can be read is no piece.
    found = mistaken(KNOB, replace(catalogue, production=replace(catalogue.production, unread=unread | {"materials/lots/L-4.yml": None})))
    assert found == {
        name: PieceFacts(piece="mistaken", piece_strange="yes", piece_batch=name, piece_unread=(f"batches/{name}.yml",)) for name in ("B-6", "B-7")
    }  # fmt: skip
    assert set(of_batches(KNOB, "A", None, catalogue, DAY)) == {"B-1", "B-6", "B-7"}


def test_a_record_is_named_with_the_place_of_its_first_mistake():
    file = "batches/B-7.yml"
    warned = doubt("BAL01", "counted other", where=Where(file, 2))
    elsewhere, first, second = (wrong("BATCH04", "no depot", where=Where(name, line)) for name, line in (("batches/B-8.yml", 1), (file, 4), (file, 9)))
    assert first_mistake(file, replace(GOOD, problems=(warned, elsewhere, first, second))) == str(Where(file, 4))
    assert first_mistake(file, replace(GOOD, problems=(warned, elsewhere))) == file


@pytest.mark.parametrize(("count", "told_of"), [(5, 5), (6, 6)])
def test_no_more_than_five_records_are_named_and_that_there_are_more_is_told(count, told_of):
    names = [f"batches/B-{at}.yml" for at in range(1, count + 1)]
    catalogue = replace(GOOD, production=replace(GOOD.production, unread=dict.fromkeys(names, KNOB)))
    assert any_of(catalogue).piece_unread == (*names[:5], *(["…"] if count > 5 else []))
    assert len(any_of(catalogue).piece_unread) == told_of


def test_a_revision_that_is_called_back_as_a_whole_is_told_whatever_the_batch():
    catalogue = depot(recalls={"RC-1": recall(part=KNOB, revision="A")})
    assert any_of(catalogue) == PieceFacts(piece="any", piece_recalled_on=date(2026, 6, 1), piece_recalled_for="cracks", piece_recall="RC-1")
    assert any_of(catalogue, revision="B") == PieceFacts()
    assert any_of(depot(recalls={"RC-1": recall(part=CLIP, revision="A")}, batches={})) == PieceFacts()


def test_a_batch_whose_record_is_gone_may_be_of_each_part_that_goes_there():
    catalogue = depot(row("2026-02-01", "B-7"), batches={"B-2": batch(part=CLIP)})

    def going(*parts):
        return replace(catalogue, production=replace(catalogue.production, going_to={("A1", "cab"): frozenset(parts)} if parts else {}))

    asks = PieceFacts(piece=None, piece_less=("batches/B-7.yml",))
    assert any_of(going(KNOB)) == any_of(going()) == asks  # of a place that nobody asked it may be any
    assert any_of(going("EX-0002")) == PieceFacts()


def test_a_record_that_says_less_is_told_as_long_as_a_piece_of_it_is_about():
    gone = {"what": "scrapped", "on": "2026-02-01", "by": "keeper", "count": 10, "why": "tried"}
    for events, piece in ((RELEASED, None), ([*RELEASED, gone], "any")):
        catalogue = depot(batches={"B-1": batch(events=events), "B-2": batch(events=[*RELEASED, gone])})
        catalogue = replace(catalogue, production=replace(catalogue.production, rewritten=frozenset({"B-1"})))
        good = PieceFacts(piece="known", piece_released="released", piece_same="yes")
        found = any_of(catalogue, {"B-1": good, "B-2": good})
        assert (found.piece, found.piece_less) == (piece, ("batches/B-1.yml",) if piece is None else ())
