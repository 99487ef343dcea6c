"""Pages of vehicles and recalls: what sits where, what is to be taken off, and what is done."""

import html
import re
from dataclasses import replace
from datetime import date

import pytest

from generator.pages.site import site
from generator.records.fitted import Gap, Why
from generator.rules.facts.case import Copy
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
    assert "Called back: take it off" in text


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
    assert "**Open**: 1 of 2 vehicles visited" in text
    twelve, eleven = re.findall("<tr><td><a.*</tr>", text)  # those to visit come first
    assert "no-12.html" in twelve
    assert '<span class="board__more"><bdi>EX-0001 A, B-1: left | third</bdi></span>' in twelve.replace("&#45;", "-").replace("&#124;", "|")
    assert '<td data-label="Still there"><b>1</b></td>' in twelve
    assert '<td data-label="Sat there">2</td><td data-label="Still there">0, ✓ Taken off</td>' in eleven
    assert "Came off A1 11, Driver's cab, 9 Jun 2026" in text.replace("&#39;", "'")
    assert "On the shelf: 7." in text


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
        for scrap in [{"what": "scrapped", "on": "2026-06-10", "by": "keeper", "why": "x"}]
        for count in (10, 8)
    )
    assert "Nothing of it is left" not in still["recalls/RC-0001.md"]
    assert "Nothing of it is left" in done["recalls/RC-0001.md"]
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


def test_a_recall_that_is_short_says_so_first_and_names_those_to_look_at():
    catalogue = depot(*ON, row("2026-03-02", "B-9", position="right"), recalls={"RC-0001": recall(lot="L-1")})
    short = replace(catalogue.production, gaps=(Gap(file="fitted/2026.csv", lines=(7, 9)),), unread={"batches/B-9.yml": None})
    found = pages(replace(catalogue, production=short))
    text = found["recalls/RC-0001.md"]
    assert text.index("**This list is incomplete.**") < text.index("Open") < text.index("Batch unknown: look")
    assert "Lines 7, 9 of fitted/2026.csv could not be read." in text.replace("&#47;", "/")
    assert "batches/B-9.yml could not be read." in text
    assert "B-9" in text[text.index("Batch unknown: look") :]
    done = depot(row("2026-03-01", "B-1", 10), row("2026-06-09", off="B-1", removed=10), recalls={"RC-0001": recall(lot="L-1")})
    assert "Nothing of it is left" in pages(done)["recalls/RC-0001.md"]
    assert "Nothing of it is left" not in pages(replace(done, production=replace(done.production, gaps=short.gaps)))["recalls/RC-0001.md"]


def test_a_recall_whose_records_say_less_than_they_did_is_not_done():
    done = depot(row("2026-03-01", "B-1", 10), row("2026-06-09", off="B-1", removed=10), recalls={"RC-0001": recall(lot="L-1")})
    less = replace(done.production, shortened=frozenset({"fitted/2026.csv"}), rewritten=frozenset({"B-1"}))
    text = pages(replace(done, production=less))["recalls/RC-0001.md"].replace("&#47;", "/")
    assert "Nothing of it is left" not in text
    assert "fitted/2026.csv says less or something else than it did." in text
    assert "A batch whose record, lot or recall says something else than it did: B-1." in text
