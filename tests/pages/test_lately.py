"""What changed lately, as pages tell it: what a reader may take from it, and what nobody may put into it."""

from dataclasses import replace
from datetime import date

import pytest

from generator.pages.site import site
from generator.pages.wording import wording
from generator.records.approvals import Event
from generator.records.batches import BatchEvent
from generator.records.depot import Language
from generator.records.lots import LotEvent
from generator.records.parts import SUBJECTS
from generator.records.recalls import RecallEvent
from generator.rules.lately import FITTED, REMOVED, Fact, Lately, LatelyChange
from tests.pages.sample import DAY, judged_sample

NEWEST = (
    LatelyChange(
        commit="c3",
        day=date(2099, 1, 1),
        facts=(Fact(about="recall", what="event", event="called back", name="RC-0001", on="2026-11-12", now="L-0009"),),
    ),
    LatelyChange(
        commit="c2",
        day=date(2026, 11, 24),
        facts=(
            *(Fact(about="part", what="model", name=f"parts/P-000{n}-x") for n in range(1, 5)),
            Fact(about="part", what="event", event="approved", name="parts/P-0001-latch", on="2026-11-12", part="P-0001"),
            Fact(about="part", what="gone", name="parts/P-9-old", part="P-9"),
            Fact(about="part", what="gone", name="parts/of-somebody"),
            Fact(about="part", what="unread", name="parts/of-somebody"),
            Fact(about="batch", what="new", name="B-0001", count=12, part="P-0001"),
            Fact(about="list", what="lines", name="fitted 2026", count=3),
        ),
    ),
    LatelyChange(commit="c1", day=date(2026, 11, 24), facts=(Fact(about="part", what="model", name="parts/P-0001-x"),)),
    LatelyChange(commit="c0", day=date(2026, 10, 1), facts=(Fact(about="catalogue", what="begun", count=4),)),
)


def pages(lately=None):
    return {each.path: each.text for each in site(*judged_sample(), DAY, lambda *_: {}, lately=lately).pages}


@pytest.fixture(scope="module")
def told():
    return pages(Lately(changes=NEWEST, is_cut=True))


def lines(text):
    plain = text.replace("<bdi>", "").replace("</bdi>", "").replace("**", "").replace("&#45;", "-")
    return [each for each in plain.splitlines() if each.startswith(("- ", "## "))]


def test_it_is_told_by_day_and_what_changed_alike_in_one_line(told):
    found = lines(told["lately.md"])
    assert found[:3] == ["## Dated after the day of this copy, by a clock that ran ahead", "- Called back, 12 Nov 2026: RC-0001 (L-0009)", "## 24 Nov 2026"]
    assert found[3].startswith("- Approved, 12 Nov 2026: [P-0001 ")
    assert found[3].endswith("](parts/P-0001.md)")
    assert found[4] == "- Taken out of the catalogue: P-9"
    assert found[5].startswith("- Other model: [P-0001 ")
    assert found[5].count("](parts/P-000") == 4
    assert found[6:] == [
        "- Printed: B-0001 (12 × P-0001)", "- Fitted and removed pieces of 2026 written down: 3", "## 1 Oct 2026", "- The catalogue begins here, with 4 parts",
    ]  # fmt: skip
    assert not [each for each in ("of-somebody", "cannot be read") if each in told["lately.md"]]
    assert "What is older is not told." in told["lately.md"]


def test_lines_of_each_year_are_told_with_it_and_counted_together():
    def fitted(commit, *counts):
        return LatelyChange(commit=commit, day=DAY, facts=tuple(Fact(about="list", what="lines" if n else "changed", name=f"fitted {year}", count=n) for year, n in counts))

    changes = (fitted("c2", (2026, 3), (2025, 885), (2024, 0)), fitted("c1", (2026, 3)), fitted("c0", (2026, 1)))
    found = lines(pages(Lately(changes=changes, is_cut=False))["lately.md"])
    assert [each for each in found if "itted" in each] == [
        "- Fitted and removed pieces of 2024: the list changed",
        "- Fitted and removed pieces of 2025 written down: 885",
        "- Fitted and removed pieces of 2026 written down: 7",
    ]


def test_a_part_tells_its_own_and_another_nothing_of_it(told):
    own = told["parts/P-0001.md"].partition("What changed lately")[2]
    assert [each for each in lines(own) if each.startswith(("- Approved, ", "- Other model", "- Printed"))][:3] == [
        "- Approved, 12 Nov 2026", "- Other model", "- Printed: B-0001 (12 × P-0001)",
    ]  # fmt: skip
    assert "What changed lately" not in told["parts/P-0005.md"]


def test_home_has_few_lines_without_the_approvals_that_stand_there_already(told):
    news = told["index.md"].partition("Also, in the records:")[2].partition('class="button"')[0]
    found = lines(news)
    assert [each.split(":")[0] for each in found] == [
        "- Dated after the day of this copy, by a clock that ran ahead Called back, 12 Nov 2026", "- 24 Nov 2026 Taken out of the catalogue",
        "- 24 Nov 2026 Other model", "- 24 Nov 2026 Printed",
    ]  # fmt: skip
    assert found[2].endswith(" and 1 more")


def test_where_nobody_looked_nothing_speaks_of_it():
    found = pages()
    assert "lately.md" not in found
    assert not [path for path, text in found.items() if "changed lately" in text]


def test_with_nothing_to_tell_the_page_says_so():
    found = pages(Lately())
    assert "Nothing is told of it yet." in found["lately.md"]
    assert "Also, in the records" not in found["index.md"]


BY_DAYS = (
    LatelyChange(
        commit="", day=date(2099, 1, 1),
        facts=(Fact(about="recall", what="event", event="called back", name="RC-0001", now="L-0009"), Fact(about="request", what="new", name="R-9")),
    ),
    LatelyChange(commit="", day=DAY, facts=(Fact(about="batch", what="new", name="B-0001", count=12, part="P-0001"),)),
    LatelyChange(
        commit="", day=date(2026, 11, 20),
        facts=(
            Fact(about="part", what="event", event="approved", name="parts/P-0001-latch", part="P-0001"),
            Fact(about="list", what="fitted", count=2, part="P-0001"), Fact(about="list", what="fitted", count=1, part="P-0002"),
            Fact(about="list", what="fitted", count=4), Fact(about="list", what="removed", count=1, part="P-0002"),
            Fact(about="machine", what="qualified", name="M-1", now="petg"),
        ),
    ),
)  # fmt: skip


@pytest.fixture(scope="module")
def by_days():
    return pages(Lately(changes=BY_DAYS, by_days=True))


def test_without_git_it_is_told_by_the_records_days_and_the_page_says_so(by_days):
    text = by_days["lately.md"]
    assert "From the days that the records give" in text
    assert "commit" not in text
    found = lines(text)
    assert found[:5] == [
        "## Dated after the day of this copy", "- Called back, 1 Jan 2099: RC-0001 (L-0009)", "- New request, 1 Jan 2099: R-9", "## 25 Nov 2026",
        "- Printed: B-0001 (12 × P-0001)",
    ]  # fmt: skip
    assert found[5] == "## 20 Nov 2026"
    assert found[6].startswith("- Approved: [P-0001 ")
    assert found[7:] == ["- Machine qualified: M-1 (petg)", "- 7 pieces fitted", "- 1 piece removed"]


def test_of_the_pieces_of_a_day_a_part_tells_its_own(by_days):
    own, other = (by_days[f"parts/P-000{n}.md"].partition("What changed lately")[2].partition("</details>")[0] for n in (1, 2))
    assert "From the days that the records of this part give" in own
    assert lines(own) == ["- Printed: B-0001 (12 × P-0001)", "- Approved", "- 2 pieces fitted"]
    assert lines(other) == ["- 1 piece fitted", "- 1 piece removed"]


def test_days_to_come_and_pieces_of_every_day_are_no_news_of_the_home_page(by_days):
    news = by_days["index.md"].partition("Also, in the records:")[2].partition('class="button"')[0]
    assert [each.partition("2026 ")[2] for each in lines(news)] == ["Printed: B-0001 (12 × P-0001)", "Machine qualified: M-1 (petg)"]


def test_a_catalogue_without_a_day_says_that_there_is_nothing_to_tell():
    found = pages(Lately(by_days=True))
    assert "Nothing is told of it yet." in found["lately.md"]
    assert "From the days that the records give" in found["lately.md"]
    assert 'href="lately.html"' in found["index.md"]
    assert not [path for path, text in found.items() if path.startswith("parts/") and "changed lately" in text]


def test_where_records_are_kept_since_a_day_the_page_says_from_what_each_is_told():
    told = Lately(changes=(replace(BY_DAYS[0], commit="c", day=date(2026, 11, 25)), *BY_DAYS[-1:]), until=date(2026, 11, 24))
    found = pages(told)
    for path in ("lately.md", "parts/P-0001.md"):
        assert "Until 24 Nov 2026 from the days that the records give" in found[path]
        assert "what each commit changed" in found[path]
    assert "## 20 Nov 2026" in found["lately.md"]


def test_a_name_with_signs_stays_a_text():
    name = '<img src=x onerror=alert(1)>](javascript:x) **b** | "q"'
    text = pages(Lately(changes=(LatelyChange(commit="c", day=DAY, facts=(Fact(about="request", what="new", name=name),)),)))["lately.md"]
    assert not [each for each in ("<img", "](j", '"q"', "**b**") if each in text]


def test_a_long_page_ends_and_says_so():
    facts = tuple(Fact(about="part", what="revision", name="x", part="P-0001", before="A", now=f"{n}") for n in range(300))
    text = pages(Lately(changes=(LatelyChange(commit="c", day=DAY, facts=facts),)))["lately.md"]
    assert (text.count("- <bdi>Revision"), "What is older is not told." in text) == (200, True)


@pytest.mark.parametrize(("count", "folded"), [(20, 0), (21, 0), (22, 2), (90, 70)])
def test_a_day_of_very_many_is_folded_behind_its_first_lines(count, folded):
    facts = tuple(Fact(about="part", what="event", event="approved", name="parts/P-0001-latch", on=f"20{10 + at // 28:02}-01-{at % 28 + 1:02}", part="P-0001") for at in range(count))
    text = pages(Lately(changes=(LatelyChange(commit="c", day=date(2026, 11, 24), facts=facts),)))["lately.md"]
    first, _, rest = text.partition("<details")
    assert (first.count("\n- <bdi>Approved"), rest.count("\n- <bdi>Approved")) == (count - folded, folded)
    assert (f"<summary>{folded} more of that day</summary>" in rest) is bool(folded)


@pytest.mark.parametrize("language", Language)
def test_every_fact_has_its_words(language):
    w = wording(language)
    events = {each.__args__[0].__args__: None for each in (Event, BatchEvent, LotEvent, RecallEvent)}
    kinds = dict(zip(("event", "batch_event", "lot_event", "recall"), events, strict=True))
    for kind, classes in kinds.items():
        for each in classes:
            [what] = each.model_fields["what"].annotation.__args__
            assert f"lately.what.recall.{what}" in w.flat if kind == "recall" else w.flat.get(f"terms.{kind}.{what}")
    own = {*SUBJECTS, "new", "gone", "model", "model_new", "model_gone", "notes", "documents", "photos", "details", "route", "waiver", "screening"}
    assert own | {"rewritten", "unread", "run", "counted"} == w.tree["lately"]["what"]["part"].keys()
    assert {FITTED, REMOVED} == w.tree["lately"]["what"]["pieces"].keys()
    assert w.tree["lately"]["what"]["request"]["voice"]
    assert w.tree["lately"]["what"]["machine"]["qualified"]
    for about in ("batch", "lot", "machine", "recall", "material", "request"):
        assert {"gone", "changed"} <= w.tree["lately"]["what"][about].keys()


def test_weeks_before_the_newest_are_folded_with_how_much_they_tell(told):
    """Who opens the page reads what is new; what is dated later than the copy stands first, as before."""
    opened, *folded = told["lately.md"].split("<details")
    assert [each for each in lines(opened) if each.startswith("## ")] == ["## Dated after the day of this copy, by a clock that ran ahead", "## 24 Nov 2026"]
    assert ["<summary>Week from 28 Sep 2026 on: 1 line</summary>" in each for each in folded] == [True]
    assert "## 1 Oct 2026" in folded[0]


@pytest.mark.parametrize(("day", "weeks"), [(date(2026, 11, 23), 0), (date(2026, 11, 22), 1)])
def test_a_week_begins_on_a_monday(day, weeks):
    facts = (Fact(about="part", what="revision", name="x", part="P-0001", before="A", now="B"),)
    text = pages(Lately(changes=tuple(LatelyChange(commit="c", day=each, facts=facts) for each in (date(2026, 11, 24), day))))["lately.md"]
    assert text.count("<details") == weeks
