"""What changed lately, as pages tell it: what a reader may take from it, and what nobody may put into it."""

from datetime import date

import pytest

from generator.pages.site import site
from generator.pages.wording import wording
from generator.records.approvals import Event
from generator.records.batches import BatchEvent
from generator.records.depot import Language
from generator.records.lots import LotEvent
from generator.records.recalls import RecallEvent
from generator.rules.lately import FIELDS, Change, Fact, Lately
from tests.pages.sample import DAY, judged_sample

NEWEST = (
    Change(
        commit="c3",
        day=date(2099, 1, 1),
        facts=(Fact(about="recall", what="event", event="called back", name="RC-0001", on="2026-11-12", now="L-0009"),),
    ),
    Change(
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
    Change(commit="c1", day=date(2026, 11, 24), facts=(Fact(about="part", what="model", name="parts/P-0001-x"),)),
    Change(commit="c0", day=date(2026, 10, 1), facts=(Fact(about="catalogue", what="begun", count=4),)),
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
        "- Printed: B-0001 (12 × P-0001)", "- Fitted and removed pieces written down: 3", "## 1 Oct 2026", "- The catalogue begins here, with 4 parts",
    ]  # fmt: skip
    assert not [each for each in ("of-somebody", "cannot be read") if each in told["lately.md"]]
    assert "What is older is not told." in told["lately.md"]


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


def test_without_git_nothing_speaks_of_it():
    found = pages()
    assert "lately.md" not in found
    assert not [path for path, text in found.items() if "changed lately" in text]


def test_with_nothing_to_tell_the_page_says_so():
    found = pages(Lately())
    assert "Nothing is told of it yet." in found["lately.md"]
    assert "Also, in the records" not in found["index.md"]


def test_a_name_with_signs_stays_a_text():
    name = '<img src=x onerror=alert(1)>](javascript:x) **b** | "q"'
    text = pages(Lately(changes=(Change(commit="c", day=DAY, facts=(Fact(about="request", what="new", name=name),)),)))["lately.md"]
    assert not [each for each in ("<img", "](j", '"q"', "**b**") if each in text]


def test_a_long_page_ends_and_says_so():
    facts = tuple(Fact(about="part", what="revision", name="x", part="P-0001", before="A", now=f"{n}") for n in range(300))
    text = pages(Lately(changes=(Change(commit="c", day=DAY, facts=facts),)))["lately.md"]
    assert (text.count("- <bdi>Revision"), "What is older is not told." in text) == (200, True)


@pytest.mark.parametrize("language", Language)
def test_every_fact_has_its_words(language):
    w = wording(language)
    events = {each.__args__[0].__args__: None for each in (Event, BatchEvent, LotEvent, RecallEvent)}
    kinds = dict(zip(("event", "batch_event", "lot_event", "recall"), events, strict=True))
    for kind, classes in kinds.items():
        for each in classes:
            [what] = each.model_fields["what"].annotation.__args__
            assert f"lately.what.recall.{what}" in w.flat if kind == "recall" else w.flat.get(f"terms.{kind}.{what}")
    own = {*FIELDS, "new", "gone", "model", "model_new", "model_gone", "notes", "documents", "photos", "details", "route", "waiver", "screening"}
    assert own | {"rewritten", "unread"} == w.tree["lately"]["what"]["part"].keys()
    for about in ("batch", "lot", "machine", "recall", "material", "request"):
        assert {"gone", "changed"} <= w.tree["lately"]["what"][about].keys()
