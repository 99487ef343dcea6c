"""What somebody found on a vehicle though it must not be there, or cannot be by the records: it is kept, told, and adds up.

Cases from the side of whoever writes down what really happened, in whatever order; and of whoever looks for the pieces later.
"""

import itertools
from dataclasses import replace
from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator.pages.on_vehicles.contradicting import contradiction_words
from generator.pages.wording import wording
from generator.records.fitted import Why
from generator.records.problems import Severity
from generator.rules.production.adding import adding
from generator.rules.production.contradicting import contradictions
from generator.rules.production.ledger import ledger
from generator.rules.production.on_vehicles import row_problems
from generator.rules.production.recalling import reach_of
from generator.rules.production.suspects import suspects_in, suspects_of
from generator.rules.production.tracing import of_all, of_batch
from tests.fixtures.production import adds_up, batch, depot, recall, row
from tests.fixtures.tiny import LEVER
from tests.rules.production.test_balances import histories

RECALLED = {"RC-0001": recall(batch="B-1")}
NEVER = {"B-1": batch(events=[])}
ONE = {"B-1": batch(1)}
CAME_OFF = (row("2026-02-01", "B-1"), row("2026-05-01", off="B-1"))
"""The only piece there is went on and came off."""


def new(day, name="", count=1, *, line=2, **more):
    return row(day, name, count, file="week.csv", line=line, **more)


def standing(catalogue, *rows):
    """The catalogue with lines behind its own, as the files have them then."""
    listed = (*catalogue.production.fitted, *rows)
    return replace(catalogue, production=replace(catalogue.production, fitted=tuple(replace(each, file="fitted/2026.csv", line=at) for at, each in enumerate(listed, 2))))


def sits(catalogue):
    return sorted((each.spot.vehicle, each.spot.position, each.batch, each.count) for each in of_all(catalogue.production).carried)


def told(problems):
    return sorted(f"{each.code} {each.key}" for each in problems)


REFUSED_UNLESS_FOUND = {
    "called back and refitted, the last one": (depot(*CAME_OFF, batches=ONE, recalls=RECALLED), new("2026-06-02", "B-1"), "FITTED07 none left"),
    "none left": (depot(row("2026-02-01", "B-1"), batches=ONE), new("2026-03-01", "B-1", vehicle="12"), "FITTED07 none left"),
    "one that stands is short by it": (depot(row("2026-02-01", "B-1"), batches=ONE), new("2026-01-20", "B-1", vehicle="12"), "FITTED07 taken"),
    "never released": (depot(batches=NEVER), new("2026-06-02", "B-1"), "FITTED08 never released"),
    "before its release": (depot(), new("2026-01-09", "B-1"), "FITTED08 before release"),
    "a batch that nobody knows": (depot(), new("2026-06-02", "B-77"), "FITTED04 no batch"),
    "more than sit there": (depot(row("2026-02-01", "B-1", 2)), new("2026-06-02", "B-1"), "FITTED06 too many"),
    "of another part": (depot(batches={"B-9": batch(part=LEVER)}), new("2026-06-02", "B-9"), "FITTED05 no fit"),
    "off what was never written down as fitted": (depot(), new("2026-06-02", off="B-1"), "FITTED10 never there"),
    "off what nobody knows": (depot(), new("2026-06-02", off="B-77"), "FITTED04 no batch"),
    "off at another position": (depot(row("2026-02-01", "B-1", position="l")), new("2026-06-02", off="B-1", position="r"), "FITTED10 other position"),
    "off a second time": (depot(*CAME_OFF), new("2026-06-02", off="B-1"), "FITTED10 off already"),
}  # fmt: skip


@pytest.mark.parametrize("case", REFUSED_UNLESS_FOUND)
def test_a_contradiction_is_refused_where_nobody_says_more_and_kept_where_it_was_found_so(case):
    catalogue, line, code = REFUSED_UNLESS_FOUND[case]
    refused = adding([line], catalogue, good_alone=False)
    assert refused.new == ()
    assert code in told(refused.against)
    assert {each.code for each in refused.against if each.severity is not Severity.ERROR} <= {"FITTED09"}
    by_option = adding([line], catalogue, good_alone=False, as_found=True)
    marked = adding([replace(line, as_found=True)], catalogue, good_alone=False)  # as the tablet writes it
    assert by_option.new == marked.new == (replace(line, as_found=True),)
    assert by_option.against == marked.against == ()
    after = standing(catalogue, *by_option.new)
    assert [each for each in row_problems(after) if each.severity is Severity.ERROR] == []
    assert told(row_problems(after))  # told all the same
    assert all(adds_up(each) for each in ledger(after.production).balances.values())
    if line.batch:
        assert (line.vehicle, "", line.batch, 1) in [(v, p, b, min(n, 1)) for v, p, b, n in sits(after)]
    else:
        assert line.removed_batch in {each.batch for each in of_all(after.production).came_off}


HARD = {
    "no such vehicle": (new("2026-06-02", "B-1", vehicle="99"), "FITTED04 no vehicle"),
    "no such place": (new("2026-06-02", "B-1", place="roof"), "FITTED04 no place"),
    "no such fleet": (new("2026-06-02", "B-1", fleet="Z9"), "FITTED04 no fleet"),
    "nobody of the depot": (new("2026-06-02", "B-1", by="bob"), "FITTED04 no role"),
    "a batch in another spelling": (new("2026-06-02", "B-001"), "FITTED04 other spelling"),
    "a removal in another spelling": (new("2026-06-02", off="B-01"), "FITTED04 other spelling"),
}


@pytest.mark.parametrize("case", HARD)
def test_what_cannot_be_is_refused_whoever_found_it(case):
    line, code = HARD[case]
    for lines, as_found in (([line], True), ([replace(line, as_found=True)], False)):
        found = adding(lines, depot(), good_alone=False, as_found=as_found)
        assert found.new == ()
        assert code in told(found.against)


def test_only_the_line_that_contradicts_bears_the_mark():
    good, bad = new("2026-03-01", "B-1", vehicle="12"), new("2026-03-01", "B-77", line=3)
    assert [each.as_found for each in adding([good, bad], depot(), good_alone=False, as_found=True).new] == [False, True]


def test_a_line_that_stands_stays_right_beside_one_found_before_it():
    catalogue = depot(row("2026-02-01", "B-1"), batches=ONE)
    after = standing(catalogue, new("2026-01-20", "B-1", vehicle="12", as_found=True))
    assert [(each.where.line, each.code, each.severity) for each in row_problems(after)] == [(2, "FITTED07", Severity.WARNING)]
    assert ledger(after.production).balances["B-1"].shelf == -1  # one more is about than was printed, and the balance says so
    later = standing(after, new("2026-03-01", "B-1", vehicle="13"))
    assert [each.where.line for each in row_problems(later) if each.severity is Severity.ERROR] == [4]  # a further slip is one


@pytest.mark.parametrize("order", itertools.permutations(range(4)))
def test_refitted_after_the_recall_and_off_again_closes_the_balance_in_any_order_of_lines(order):
    lines = [*CAME_OFF, new("2026-06-02", "B-1", vehicle="12", as_found=True), new("2026-06-09", off="B-1", vehicle="12")]
    until = [*CAME_OFF, lines[2]]
    then = depot(*until, batches=ONE, recalls=RECALLED)
    balance = ledger(then.production).balances["B-1"]
    assert (balance.on_vehicles, balance.removed, balance.shelf, balance.out) == (1, 0, 0, 0)
    assert reach_of(RECALLED["RC-0001"], then.production).left == (("A1", "12"),)
    after = depot(*(lines[at] for at in order), batches=ONE, recalls=RECALLED)
    balance = ledger(after.production).balances["B-1"]
    assert (balance.on_vehicles, balance.removed, balance.shelf, balance.out) == (0, 1, 0, 0)
    assert [each for each in row_problems(after) if each.severity is Severity.ERROR] == []
    assert reach_of(RECALLED["RC-0001"], after.production).left == ()


def test_off_and_on_again_on_one_day():
    after = depot(row("2026-02-01", "B-1"), row("2026-05-01", off="B-1"), row("2026-05-01", "B-1", vehicle="12", as_found=True), batches=ONE)
    assert told(row_problems(after)) == ["FITTED07 again"]
    balance = ledger(after.production).balances["B-1"]
    assert (balance.on_vehicles, balance.removed, balance.shelf) == (1, 0, 0)


def test_refitted_after_the_recall_was_lifted_is_a_piece_that_went_on_again():
    lifted = {"RC-0001": recall(lifted="2026-06-05", batch="B-1")}
    catalogue = depot(*CAME_OFF, batches=ONE, recalls=lifted)
    line = new("2026-06-09", "B-1")
    assert told(adding([line], catalogue, good_alone=False).against) == ["FITTED07 none left"]
    after = standing(catalogue, *adding([line], catalogue, good_alone=False, as_found=True).new)
    assert told(row_problems(after)) == ["FITTED07 again"]


def test_the_recall_of_a_revision_knows_a_piece_that_was_found():
    called = {"RC-0001": recall(part="EX-0001", revision="A")}
    after = depot(*CAME_OFF, row("2026-06-02", "B-1", vehicle="13", as_found=True), batches=ONE, recalls=called)
    assert reach_of(called["RC-0001"], after.production).left == (("A1", "13"),)


def test_scrapped_pieces_are_not_those_that_went_on_again():
    events = [{"what": "released", "on": "2026-01-10", "by": "keeper"}, {"what": "scrapped", "on": "2026-05-02", "by": "keeper", "count": 1, "why": "tried"}]
    after = depot(*CAME_OFF, row("2026-06-02", "B-1", as_found=True), batches={"B-1": batch(1, events=events)})
    assert told(row_problems(after)) == ["FITTED07 none left"]  # its only piece is scrap: the label was misread, or another was scrapped
    balance = ledger(after.production).balances["B-1"]
    assert (balance.scrapped, balance.on_vehicles, balance.removed, balance.shelf, adds_up(balance)) == (1, 1, 0, -1, True)


def test_a_piece_of_an_unknown_batch_comes_off_without_a_word():
    after = depot(row("2026-06-02", "B-77", as_found=True))
    found = adding([new("2026-06-09", off="B-77")], after, good_alone=False)
    assert (len(found.new), found.against) == (1, ())
    assert of_batch(standing(after, *found.new).production, "B-77").carried == ()


def test_a_removal_that_was_found_so_is_a_removal_once_the_line_of_the_fitting_comes_in():
    off = new("2026-06-09", off="B-1", as_found=True)
    before = ledger(depot(off).production).balances["B-1"]
    assert (before.on_vehicles, before.removed, before.shelf) == (0, 1, 9)
    after = depot(off, row("2026-06-02", "B-1"))
    assert row_problems(after) == []
    assert ledger(after.production).balances["B-1"] == replace(before, moved=ledger(after.production).balances["B-1"].moved)


def test_more_than_sit_there_stays_so_and_no_more_than_that():
    over = depot(row("2026-02-01", "B-1", 2), row("2026-03-01", "B-1", as_found=True))
    changed = new("2026-03-05", "B-1", off="B-1", removed=1)
    assert adding([changed], over, good_alone=False).against == ()
    assert told(adding([new("2026-03-05", "B-1")], over, good_alone=False).against) == ["FITTED06 too many"]
    mended = standing(over, new("2026-03-05", off="B-1"))
    assert told(adding([new("2026-03-09", "B-1")], mended, good_alone=False).against) == ["FITTED06 too many"]


WINDOWS = tuple(row("2026-02-01", "B-1", position=position, vehicle=vehicle) for vehicle in ("11", "12") for position in ("left", "right"))


def test_two_pieces_onto_one_position_are_told_as_that():
    catalogue = depot(row("2026-02-01", "B-1", position="left"), *WINDOWS[2:])
    second = new("2026-03-01", "B-1", position="Left ")
    assert told(adding([second], catalogue, good_alone=False).against) == ["FITTED15 taken"]
    assert adding([new("2026-03-01", "B-1", position="right")], catalogue, good_alone=False).against == ()
    instead = new("2026-03-01", "B-1", position="left", off="B-1", removed=1)
    assert adding([instead], catalogue, good_alone=False).against == ()
    both = [new("2026-03-01", "B-1", position="right"), new("2026-03-01", "B-1", position="right", line=3, row="x")]
    found = adding(both, catalogue, good_alone=True)
    assert [each.line for each in found.new] == [2]
    assert [(each.where.line, each.code) for each in found.against if each.code == "FITTED15"] == [(3, "FITTED15")]
    assert adding([second], catalogue, good_alone=False, as_found=True).new[0].as_found


def test_a_position_that_carries_several_may_carry_one_more():
    catalogue = depot(*(row("2026-02-01", "B-1", position="left", vehicle=each, row=f"{each}{at}") for each in ("11", "12", "13") for at in range(2)), batches={"B-1": batch(20)})
    found = adding([new("2026-03-01", "B-1", position="left", vehicle="14"), new("2026-03-01", "B-1", position="left", vehicle="14", line=3, row="z")], catalogue, good_alone=False)
    assert found.against == ()


def test_two_lines_that_take_the_same_piece_off_name_each_other():
    catalogue = depot(row("2026-02-01", "B-1", position="left"), batches={"B-1": batch(), "B-2": batch()})
    lines = [new("2026-03-01", "B-2", position="left", off="B-1", line=at, row=f"r{at}") for at in (2, 3)]
    found = adding(lines, catalogue, good_alone=False)
    off = next(each for each in found.against if each.code == "FITTED10")
    assert (off.key, off.where.line, dict(off.facts)["line"]) == ("off already", 3, "week.csv:2")


def test_what_must_come_off_first_is_told_beside_what_keeps_the_line_out():
    catalogue = depot(*CAME_OFF, batches=ONE, recalls=RECALLED)
    against = adding([new("2026-06-02", "B-1")], catalogue, good_alone=False).against
    assert told(against) == ["FITTED07 none left", "FITTED09 called back"]
    assert {each.code: each.mend for each in against}["FITTED09"] == "FITTED09.take off"
    assert [each.code for each in against if each.severity is Severity.ERROR] == ["FITTED07"]  # alone it would keep nothing out


def test_the_same_line_with_and_without_its_mark_is_the_same_line():
    stands = row("2026-06-02", "B-77", as_found=True)
    found = adding([new("2026-06-02", "B-77")], depot(stands), good_alone=False)
    assert (len(found.there), found.new, found.against) == (1, (), ())
    assert stands.day == date(2026, 6, 2)


UNKNOWN = row("2026-06-02", "B-77", as_found=True)
LOOKED_FOR = {
    "a revision of which no batch is written down": ({"part": "EX-0001", "revision": "Z"}, True),
    "a lot of which no batch is written down": ({"lot": "L-9"}, True),
    "a lot of which a batch of another part is": ({"lot": "L-3"}, True),
    "a batch of the part": ({"batch": "B-1"}, True),
    "a batch that nobody knows either": ({"batch": "B-78"}, True),
    "a part that does not fit there": ({"part": LEVER, "revision": "A"}, False),
}


@pytest.mark.parametrize("case", LOOKED_FOR)
def test_a_piece_of_an_unknown_batch_is_a_suspect_wherever_it_may_be_one(case):
    what, is_one = LOOKED_FOR[case]
    called = recall(**what)
    rows = [UNKNOWN, row("2026-06-02", "B-78", vehicle="14", as_found=True)] if what.get("batch") == "B-78" else [UNKNOWN]
    catalogue = depot(*rows, batches={"B-1": batch(), "B-3": batch(part=LEVER, lots=("L-3",))}, recalls={"RC-0001": called})
    found = suspects_in(called, catalogue, reach_of(called, catalogue.production).batches)
    assert ("B-77" in {each.batch for each in found.sitting}) == is_one
    assert found.lying == ()


LOOSE = row("2026-06-03", off="B-77", as_found=True)
INSTEAD = row("2026-06-03", "B-3", off="B-77")


@pytest.mark.parametrize("case", LOOKED_FOR)
@pytest.mark.parametrize("rows", [[UNKNOWN, LOOSE], [LOOSE], [LOOSE, row("2026-06-04", "B-1")]])
def test_a_piece_of_an_unknown_batch_that_came_off_is_looked_for_as_one_that_sits_is(case, rows):
    """Whether it was ever written down as fitted or not, and whatever sits there now."""
    what, is_one = LOOKED_FOR[case]
    called = recall(**what)
    rows = [*rows, row("2026-06-02", "B-78", vehicle="14", as_found=True)] if what.get("batch") == "B-78" else rows
    catalogue = depot(*rows, batches={"B-1": batch(), "B-3": batch(part=LEVER, lots=("L-3",))}, recalls={"RC-0001": called})
    found = suspects_in(called, catalogue, reach_of(called, catalogue.production).batches)
    assert [(each.batch, each.count) for each in found.lying] == ([("B-77", 1)] if is_one else [])


@pytest.mark.parametrize(("why", "is_one"), [(Why.WORN, False), (Why.WRONG, True)])
def test_what_came_off_for_another_part_was_of_that_part_unless_it_was_the_wrong_one(why, is_one):
    catalogue = depot(UNKNOWN, replace(INSTEAD, why=why), batches={"B-1": batch(), "B-3": batch(part=LEVER)})
    assert bool(suspects_of(catalogue, ["B-1"]).lying) == is_one
    assert suspects_of(catalogue, ["B-77"]).lying == (), "no suspect of its own recall"


def test_what_came_off_is_no_suspect_once_its_batch_is_written_down():
    called = recall(batch="B-1")
    catalogue = depot(UNKNOWN, LOOSE, batches={"B-1": batch(), "B-77": batch()}, recalls={"RC-0001": called})
    assert suspects_in(called, catalogue, ["B-1"]).is_empty


def test_what_speaks_against_a_piece_stands_with_it_where_it_sits_and_where_it_came_off():
    catalogue = depot(
        *CAME_OFF,
        row("2026-06-02", "B-1", vehicle="12", position="Left", as_found=True),
        row("2026-06-02", "B-77", vehicle="13", as_found=True),
        row("2026-06-03", off="B-88", vehicle="13", as_found=True),
        batches=ONE,
        recalls=RECALLED,
    )
    against, every = contradictions(catalogue), of_all(catalogue.production)
    assert [(each.batch, told(against.of(each))) for each in every.carried] == [("B-1", ["FITTED07 again", "FITTED09 called back"]), ("B-77", ["FITTED04 no batch"])]
    assert [(each.batch, told(against.of(each))) for each in every.came_off] == [("B-1", []), ("B-88", ["FITTED04 no batch", "FITTED10 never there"])]


def test_what_was_put_right_since_contradicts_nothing():
    line = row("2026-06-02", "B-1", as_found=True)
    assert contradictions(depot(line, batches=NEVER)).sitting
    assert not contradictions(depot(line)).sitting


@pytest.mark.parametrize("language", ["en", "de", "da"])
def test_each_reason_has_its_words(language):
    w = wording(language)
    for catalogue, line, _ in REFUSED_UNLESS_FOUND.values():
        after = standing(catalogue, *adding([line], catalogue, good_alone=False, as_found=True).new)
        against = contradictions(after)
        for listed in (*against.sitting.values(), *against.off.values()):
            says = contradiction_words(listed, w)
            assert says
            assert "{" not in says
            assert w("missing") not in says


def test_what_came_off_is_not_to_be_taken_off():
    against = adding([new("2026-06-02", off="B-77")], depot(), good_alone=False).against
    assert {each.code: each.mend for each in against}["FITTED04"] == "no batch"


@given(histories(), st.integers(0, 14))
def test_whatever_was_found_so_is_added_and_makes_no_line_that_stands_wrong(history, split):
    rows, batches = history
    stands = [each for each in rows[:split] if not each.as_found]
    catalogue = depot(*stands, batches=batches)
    handed = [replace(each, file="week.csv", line=at, row=f"r{at}") for at, each in enumerate(rows[split:], 2)]
    found = adding(handed, catalogue, good_alone=False, as_found=True)
    assert (len(found.new), found.against) == (len(handed), ())
    after = standing(catalogue, *found.new)
    errors = [each for each in row_problems(after) if each.severity is Severity.ERROR]
    own = {each.what for each in row_problems(catalogue) if each.severity is Severity.ERROR}
    assert {each.where.line for each in errors} <= set(range(2, 2 + len(stands)))
    assert {(each.code, dict(each.facts).get("batch") or dict(each.facts).get("part")) for each in errors} <= {(code, dict(facts).get("batch") or dict(facts).get("part")) for code, _, facts in own}
    assert all(adds_up(each) for each in ledger(after.production).balances.values())
