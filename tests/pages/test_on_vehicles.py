"""Pages of vehicles and recalls: what sits where, what is to be taken off, and what is done."""

import html
import re
from dataclasses import replace
from datetime import date

import pytest

from generator.edge.commands.notice import notice_of
from generator.pages.site import site
from generator.records.fitted import FileGap, Why
from generator.records.lots import Blocked, Lot
from generator.rules.facts.case import Copy
from generator.rules.production.recalling import reach_of
from generator.rules.sheet import sheet
from tests.fixtures.production import batch, depot, recall, row
from tests.fixtures.tiny import DAY


def pages(catalogue, day=DAY):
    found = tuple(sheet(folder, None, catalogue, Copy(day, 30)) for folder in catalogue.parts)
    made = site(replace(catalogue, problems=()), found, (), day, lambda _front, _wanted: {})
    return {page.path: page.text for page in made.pages}


ON = (row("2026-03-01", "B-1", 2), row("2026-03-01", "B-1", vehicle="12", position="left | third"))
CALLED = {"RC-0001": recall(lot="L-1"), "RC-0002": recall(lifted="2026-07-01", part="EX-0003", revision="A")}


@pytest.fixture(scope="module")
def called():
    off = row("2026-06-09", off="B-1", removed=2, why=Why.CAMPAIGN)
    return pages(depot(*ON, off, row("2026-06-10", removed=1), recalls=CALLED))


def test_a_recall_of_what_no_batch_names_lists_what_asks_beside_it_and_is_never_done():
    lots = {"L-1": Lot(material="petg", supplier_lot="S1"), "L-2": Lot(material="petg", supplier_lot="S1 rest")}
    call, nothing = {"RC-0001": recall(lot="L-2")}, "Nothing is left to visit"
    text = told(pages(depot(*ON, lots=lots, recalls=call))["recalls/RC-0001.md"])
    apart = text[text.index("## Ask about these, too") :]
    assert re.search(r"\*\*.*A1 12.*left \| third.*: 1 × .*B-1.*of lot L-1", apart)
    assert "To ask about on vehicles: 3. Vehicles: 2. On no vehicle: 7." in apart
    alone = {**lots, "L-2": lots["L-2"].model_copy(update={"supplier_lot": "S7"})}
    unknown = told(pages(depot(*ON, lots=alone, recalls=call))["recalls/RC-0001.md"])
    assert "nobody knows which pieces these are" in unknown
    assert "Ask about these" not in unknown
    assert nothing not in text + unknown
    off = (row("2026-06-09", off="B-1", removed=2, why=Why.CAMPAIGN), row("2026-06-09", off="B-1", vehicle="12", position="left | third", why=Why.CAMPAIGN))
    assert nothing in pages(depot(*ON, *off, lots=alone, recalls={"RC-0001": recall(lot="L-1")}))["recalls/RC-0001.md"]


def test_a_vehicle_says_what_sits_on_it_and_what_came_off(called):
    twelve, eleven = called["vehicles/A1/no-12.md"], called["vehicles/A1/no-11.md"]
    line = re.search("<tr><td>.*EX-0001.*</tr>", told(twelve))[0]
    assert '<a class="board__part" href="../../parts/EX-0001.html"><b><bdi>EX-0001 A</bdi></b>' in line
    assert 'href="../../batches/B-1.html"' in line
    assert '<a class="board__file recalled" href="../../recalls/RC-0001.html"><b>Called back: take it off</b></a>' in line
    assert re.search(r'<td data-label="Where there"><bdi>left \| third</bdi></td><td data-label="Since">1 Mar 2026</td>', line)
    assert "left | third" not in twelve  # a position is text, and no column
    assert '<a class="board__part" href="at-cab.html">' in twelve
    assert "Nothing printed here is written down as fitted to this vehicle." in eleven
    assert re.findall(r"<tr><td>(\d+ Jun 2026)</td>.*>([^>]*)</td></tr>", eleven) == [("10 Jun 2026", "worn"), ("9 Jun 2026", "called back or changed as planned")]
    assert "without a batch" in eleven


def told(text):
    return html.unescape(text)


def test_what_is_older_is_folded_by_year_and_what_sits_there_comes_first():
    gone = [row(f"{year}-03-{day:02}", removed=1) for year in (2024, 2025, 2026) for day in range(1, 5)]
    text = pages(depot(ON[0], *gone))["vehicles/A1/no-11.md"]
    assert text.index("Printed parts on it") < text.index("What came off") < text.index("4 Mar 2026") < text.index("<details")
    assert re.findall("<summary>(.*)</summary>", text) == ["2025: 3 older lines", "2024: 4 older lines"]
    assert "2 pieces at 1 place." in text


def test_a_place_leads_to_the_vehicles_that_carry_something_there(called):
    text = called["vehicles/A1/at-cab.md"]
    assert re.findall(r'<a href="(no-\d+.html)">', text) == ["no-12.html"]
    assert "Must come off" in text


def test_pieces_of_a_batch_at_one_place_stand_in_one_line_as_people_count_them():
    sat = [row(f"2026-03-{day:02}", "B-1", vehicle="12", position=f"window {at}") for day, at in ((2, 10), (4, 2), (3, 1))]
    text = pages(depot(*sat))["vehicles/A1/no-12.md"]
    assert "window 1; window 2; window 10" in text
    assert "3 × " in text
    assert "2 Mar 2026 to 4 Mar 2026" in text


def test_a_vehicle_with_nothing_says_so_and_each_has_a_page(called):
    assert "Nothing printed here" in called["vehicles/B2/no-22.md"]
    assert all(called["carried.md"].count(f"no-{number}.md") == 1 for number in (11, 12, 13, 14, 21, 22))


def test_a_recall_ticks_off_the_vehicles_as_pieces_come_off(called):
    text = called["recalls/RC-0001.md"]
    assert "**Open.** To find: 1 piece on 1 vehicle; 7 on the shelf; 2 that came off and are not scrapped" in text
    open_, done = text.split("<details")
    (twelve,), (eleven,) = (re.findall("<tr><td><a.*</tr>", each) for each in (open_, done))
    assert "no-12.html" in twelve
    assert '<span class="board__more"><bdi>EX-0001 A, B-1: left | third</bdi></span>' in twelve.replace("&#45;", "-").replace("&#124;", "|")
    assert '<td data-label="Still there"><b>1</b></td>' in twelve
    assert '<td data-label="Sat there">2</td><td data-label="Still there">0, ✓ Taken off</td>' in eleven
    assert "Came off A1 11, Driver's cab (9 Jun 2026)" in open_.replace("&#39;", "'")
    assert "7 × B-1: On the shelf" in told(open_)
    assert "<summary>Done: 1 of 2 vehicles visited</summary>" in text


def test_what_is_still_open_comes_first_and_what_came_off_and_was_scrapped_is_done():
    scrap = [{"what": "scrapped", "on": "2026-06-10", "by": "keeper", "why": "tried", "count": 1}]
    off = row("2026-06-09", off="B-1"), row("2026-06-12", off="B-1", vehicle="12", position="left | third")
    released = [{"what": "released", "on": "2026-01-10", "by": "keeper"}]
    text = told(pages(depot(*ON, *off, batches={"B-1": batch(events=released + scrap)}, recalls=CALLED))["recalls/RC-0001.md"])
    order = ["To find:", "Still to visit", "A1 11", "Not on a vehicle", "On the shelf", "Came off A1 12", "<details", "Came off and scrapped", "1 × B-1 came off A1 11", "Called back on"]
    assert [text.index(each) for each in order] == sorted(text.index(each) for each in order)
    assert "Driver's cab (9 Jun 2026); scrapped on 10 Jun 2026" in text
    assert "1 that came off and is not scrapped" in text
    assert text.count("A1 11, Driver's cab") == 1  # what is scrapped is looked for nowhere


def test_what_a_count_found_beyond_the_books_is_told():
    counted = [{"what": "released", "on": "2026-01-10", "by": "keeper"}, {"what": "counted", "on": "2026-06-10", "by": "keeper", "on_shelf": 9}]
    found = pages(depot(*ON, batches={"B-1": batch(events=counted)}, recalls=CALLED))
    text = told(found["recalls/RC-0001.md"])
    assert "9 × B-1: On the shelf; counted on 10 Jun 2026: 2 more than is written down" in text
    assert "B-1: counted on 10 Jun 2026, 2 more on the shelf than is written down." in told(found["batches/B-1.md"])


def test_of_a_recall_that_is_lifted_nothing_is_to_be_visited():
    lifted = told(pages(depot(*ON, recalls={"RC-0001": recall(lifted="2026-07-01", lot="L-1")}))["recalls/RC-0001.md"])
    assert "To find" not in lifted
    assert "Still to visit" not in lifted
    assert "Where its pieces sit" in lifted
    assert "still" not in lifted


def test_a_lifted_recall_says_on_its_page_that_the_lot_is_blocked_still():
    blocked = Lot(material="petg", supplier_lot="S1", events=(Blocked(what="blocked", on=date(2026, 6, 1), by="keeper", why="see letter"),))
    text = told(pages(depot(*ON, lots={"L-1": blocked}, recalls={"RC-0001": recall(lifted="2026-07-01", lot="L-1")}))["recalls/RC-0001.md"])
    assert "Lot L-1 is still blocked, since 1 Jun 2026: see letter." in text
    assert "spares lot unblock L-1" in text


def test_open_recalls_come_first_and_are_told_at_home(called):
    listed = called["recalls.md"]
    assert listed.index("RC-0001") < listed.index("RC-0002")
    assert "Lifted on 1 Jul 2026" in listed
    assert '<a class="button" href="recalls.html">1 recall is open</a>' in called["index.md"]
    assert "(recalls.md)" in called["vehicles.md"]


def test_a_recall_is_done_when_nothing_is_left_anywhere_and_open_while_nobody_knows():
    """Ten were printed, two came off: with eight scrapped two lie somewhere still."""
    released, off = {"what": "released", "on": "2026-01-10", "by": "keeper"}, row("2026-06-09", off="B-1", removed=2)
    done, still = (
        pages(depot(ON[0], off, batches={"B-1": batch(events=[released, scrap | {"count": count}])}, recalls={"RC-0001": recall(batch="B-1")}))
        for scrap in [{"what": "scrapped", "on": "2026-06-10", "by": "keeper", "why": "tried"}]
        for count in (10, 8)
    )
    assert "Nothing of it is left" not in still["recalls/RC-0001.md"]
    for page in ("recalls/RC-0001.md", "recalls.md"):
        assert "Done. Nothing of it is left since 10 Jun 2026: 10 × B-1 scrapped by Keeper of the vehicles (tried)" in done[page]
    assert "recall is open" not in done["index.md"]
    unknown = pages(depot(*ON, recalls={"RC-0001": recall(batch="B-7")}))
    assert "1 recall is open" in unknown["index.md"]
    assert "No batch of it is written down." in unknown["recalls/RC-0001.md"]


def test_a_part_says_where_it_sits(called):
    assert "- <bdi>A1: 1 piece on 1 vehicle</bdi>" in called["parts/EX-0001.md"]
    assert "No piece of it is written down as fitted." in called["parts/EX-0003.md"]


def test_a_depot_that_writes_nothing_down_has_none_of_it():
    found = pages(depot(batches={}))
    assert not any(path.startswith(("carried", "recalls")) or "/no-" in path for path in found)
    assert "carried.md" not in "".join((found["vehicles.md"], found["index.md"]))
    assert "carried.html" not in found["parts/EX-0001.md"]


def test_every_page_has_one_heading_of_the_first_kind(called):
    for path, text in called.items():
        if path.startswith(("carried", "recalls", "vehicles/")):
            assert len(re.findall(r"^# ", text, re.MULTILINE)) == 1, path


def test_a_page_of_an_earlier_day_knows_no_later_lifting():
    catalogue = depot(*ON, recalls={"RC-0001": recall(lifted="2026-07-01", batch="B-1")})
    assert "recall is open" in pages(catalogue, date(2026, 6, 20))["index.md"]
    assert "recall is open" not in pages(catalogue, date(2026, 7, 1))["index.md"]


def all_scrapped():
    events = [{"what": "released", "on": "2026-01-10", "by": "keeper"}, {"what": "scrapped", "on": "2026-06-09", "by": "keeper", "why": "tried", "count": 10}]
    rows = row("2026-03-01", "B-1", 10), row("2026-06-09", off="B-1", removed=10)
    return depot(*rows, batches={"B-1": batch(events=events)}, recalls={"RC-0001": recall(lot="L-1")})


def test_a_recall_that_is_short_says_so_first_and_names_those_to_look_at():
    catalogue = depot(*ON, row("2026-03-02", "B-9", position="right"), recalls={"RC-0001": recall(lot="L-1")})
    short = replace(catalogue.production, gaps=(FileGap(file="fitted/2026.csv", lines=(7, 9)),), unread={"batches/B-9.yml": None})
    found = pages(replace(catalogue, production=short))
    text = found["recalls/RC-0001.md"]
    assert text.index("**This list is incomplete.**") < text.index("Open") < text.index("Batch unknown: look")
    assert "Lines 7, 9 of fitted/2026.csv could not be read." in text.replace("&#47;", "/")
    assert "batches/B-9.yml could not be read." in text
    assert "B-9" in text[text.index("Batch unknown: look") :]
    done = all_scrapped()
    assert "Nothing of it is left" in pages(done)["recalls/RC-0001.md"]
    assert "Nothing of it is left" not in pages(replace(done, production=replace(done.production, gaps=short.gaps)))["recalls/RC-0001.md"]


def test_a_recall_whose_records_say_less_than_they_did_is_not_done():
    done = all_scrapped()
    less = replace(done.production, shortened=frozenset({"fitted/2026.csv"}), rewritten=frozenset({"B-1"}))
    text = pages(replace(done, production=less))["recalls/RC-0001.md"].replace("&#47;", "/")
    assert "Nothing of it is left" not in text
    assert "fitted/2026.csv says less or something else than it did." in text
    assert "A batch whose record, lot or recall says something else than it did: B-1." in text


def test_what_contradicts_the_records_stands_at_the_vehicle_the_batch_and_the_recall_with_its_reason():
    found = pages(
        depot(
            row("2026-03-01", "B-1"), row("2026-05-01", off="B-1"),
            row("2026-06-09", "B-1", vehicle="12", position="left", as_found=True), row("2026-06-09", "B-77", vehicle="13", as_found=True),
            row("2026-06-10", off="B-88", vehicle="14", as_found=True), row("2026-03-01", "B-2", 2, vehicle="14"), row("2026-03-02", "B-2", vehicle="11", as_found=True),
            batches={"B-1": batch(1), "B-2": batch(2)}, recalls={"RC-0001": recall(batch="B-1")},
        )
    )  # fmt: skip
    reason = "Contradicts the records: it came off a vehicle before; called back on 1 Jun 2026 by RC-0001, before it went on"
    for page in ("vehicles/A1/no-12.md", "batches/B-1.md", "recalls/RC-0001.md"):
        assert reason in told(found[page]), page
    assert told(found["vehicles/A1/no-12.md"]).index(reason) < told(found["vehicles/A1/no-12.md"]).index("Printed parts on it")
    assert "there is no record of this batch" in told(found["vehicles/A1/no-13.md"])
    assert "never written down as fitted there" in told(found["vehicles/A1/no-14.md"])
    assert "1 piece more is told of than was printed" in told(found["batches/B-2.md"])
    assert "shelf -1" in told(found["batches/B-2.md"])


def test_a_lot_of_nearly_the_same_number_is_told_beside_the_recall_and_on_its_own_pages():
    lots = {"L-1": Lot(material="petg", supplier_lot="3388"), "L-2": Lot(material="petg", supplier_lot="Lot 3388")}
    catalogue = depot(batches={"B-1": batch(), "B-2": batch(lots=("L-2",))}, recalls={"RC-0001": recall(lot="L-1")}, lots=lots)
    found = {path: told(text) for path, text in pages(catalogue).items()}
    sentence = "Ask about lot L-2, for the supplier's number is the same or nearly: Lot 3388 (L-2) ≈ 3388 (L-1). Batches: B-2. It asks until quality has ended a block of it in words that name RC-0001"
    for page in ("recalls/RC-0001.md", "lots/L-1.md", "lots/L-2.md"):
        assert sentence in re.sub(r"</?bdi>|\\", "", found[page]), page
    assert "Lot 3388 (L-2) ≈ 3388 (L-1)" in re.sub(r"</?bdi>|\\", "", found["batches/B-2.md"])
    assert "≈" not in found["batches/B-1.md"]
    notice = notice_of("RC-0001", (called := catalogue.production.recalls["RC-0001"]), called.events[0], reach_of(called, catalogue.production), catalogue, DAY)
    assert notice.beside == (sentence,)
