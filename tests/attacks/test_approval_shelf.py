"""Pieces on the shelf with an earlier label: what was never approved, or of which nobody says what becomes of it."""

import pytest

from tests.attacks import approval_depot as depot
from tests.attacks.approval_depot import (
    ASK,
    FIT,
    KNOB,
    NO,
    TRIM,
    Said,
    add,
    approve,
    event,
    folder,
    history,
    kept,
    part,
    refuses,
    walk,
)


def next_one(catalogue, revision="B", older=(), on=depot.DAY, label="A"):
    """The next revision, by the whole way; the approval says what becomes of the older stock."""
    depot.other_mesh(catalogue, mark=revision.encode())
    with part(catalogue) as record:
        record["revision"] = revision
        record["stock"]["revision"] = label
    walk(catalogue, on=on, mark=f"rev-{revision}")
    said = [":".join(one.values()) for one in older]
    answer = approve(catalogue, *(word for one in said for word in ("--older-stock", one)), on=on)
    assert answer.returncode == 0, answer.stdout + answer.stderr


def becomes(what, until=None, revision="A"):
    return [{"revision": revision, "becomes": what} | ({"until": until} if until else {})]


def of_label(catalogue, label="A", day=depot.DAY):
    said = Said(catalogue, day=day)
    return said.words(label), said


def test_stock_of_which_nothing_is_said_is_asked_about(demo):
    catalogue = demo()
    next_one(catalogue)
    words, said = of_label(catalogue)
    assert words == {ASK}, said.why
    assert "stock" in said.why.lower()
    assert said.words() == {FIT}, said.why


@pytest.mark.parametrize("what", ["stop", "call back"])
def test_stock_that_is_stopped_or_called_back_is_never_fitted(demo, what):
    catalogue = demo()
    next_one(catalogue, older=becomes(what))
    words, said = of_label(catalogue)
    assert words == {NO}, said.why
    assert said.words() == {FIT}, said.why


@pytest.mark.parametrize(("day", "word"), [("2026-12-31", FIT), ("2027-01-01", NO)])
def test_stock_is_used_up_until_a_day(demo, day, word):
    catalogue = demo()
    next_one(catalogue, older=becomes("use up", "2026-12-31"))
    words, said = of_label(catalogue, day=day)
    assert words == {word}, said.why


SAID_BADLY = {
    "without a day": becomes("use up"),
    "until a day that has passed": becomes("use up", "2026-11-24"),
    "in another word": becomes("fit it", "2031-01-01"),
    "in capitals": becomes("USE UP", "2031-01-01"),
    "of a revision that nobody approved": becomes("use up", "2031-01-01", "Z"),
    "of the new revision itself": becomes("use up", "2031-01-01", "B"),
    "twice, and otherwise": becomes("use up", "2031-01-01") + becomes("stop"),
    "twice, and otherwise, the other way round": becomes("stop") + becomes("use up", "2031-01-01"),
    "twice, with two days": becomes("use up", "2026-11-01") + becomes("use up", "2031-01-01"),
    "as a text": "use up until 2031-01-01",
    "as nothing": [],
    "as null": None,
    "a day that there is not": becomes("use up", "2027-02-30"),
}


@pytest.mark.parametrize("case", SAID_BADLY)
def test_what_becomes_of_the_stock_is_said_badly(demo, case):
    catalogue = demo()
    next_one(catalogue)
    with history(catalogue) as record:
        record["events"][-1]["older_stock"] = SAID_BADLY[case]
    depot.forgotten(catalogue)
    words, said = of_label(catalogue)
    assert FIT not in words, said.text


def test_stock_of_two_revisions_ago_is_asked_about_when_only_the_last_is_spoken_of(demo):
    catalogue = demo()
    next_one(catalogue, older=becomes("use up", "2031-01-01"), on="2026-06-01")
    next_one(catalogue, "C", older=becomes("use up", "2031-01-01", "B"))
    words, said = of_label(catalogue)
    assert FIT not in words, said.why


def test_stock_that_was_stopped_stays_stopped_when_the_next_revision_says_nothing(demo):
    catalogue = demo()
    next_one(catalogue, older=becomes("call back"), on="2026-06-01")
    next_one(catalogue, "C", older=becomes("use up", "2031-01-01", "B"))
    words, said = of_label(catalogue)
    assert words == {NO}, said.why


@pytest.mark.parametrize("by", ["am-specialist", "stores", "authority", "nobody"])
def test_stock_is_settled_by_who_may_not_approve(demo, by):
    catalogue = demo()
    next_one(catalogue)
    paper = kept(folder(catalogue), "documents/stock.txt", "Use them up.\n")
    add(
        catalogue,
        KNOB,
        event(
            depot.DAY,
            "older stock settled",
            by,
            evidence=[paper],
            older_stock=becomes("use up", "2031-01-01"),
        ),
    )
    words, said = of_label(catalogue)
    assert FIT not in words, said.text


def test_stock_is_settled_later_by_who_may_approve(demo):
    catalogue = demo()
    next_one(catalogue)
    paper = kept(folder(catalogue), "documents/stock.txt", "Use them up.\n")
    add(
        catalogue,
        KNOB,
        event(
            depot.DAY, "older stock settled", evidence=[paper], older_stock=becomes("use up", "2031-01-01")
        ),
    )
    words, said = of_label(catalogue)
    assert words == {FIT}, said.why + said.problems()


@pytest.mark.parametrize("label", ["Z", "0", "AA", "A1", "B0"])
def test_a_label_that_nobody_approved_is_not_fitted(demo, label):
    catalogue = demo()
    with part(catalogue) as record:
        record["stock"]["revision"] = label
    refuses(catalogue, "label|revision|approv", label=label)


def test_the_label_of_the_next_revision_before_it_is_approved(demo):
    # already on the shelf, while the record still says A
    catalogue = demo()
    with part(catalogue) as record:
        record["stock"]["revision"] = "B"
    refuses(catalogue, "label|revision|approv", label="B")


def test_the_label_of_a_drawn_revision_that_is_the_parts_own(demo):  # holds already
    catalogue = demo(TRIM)
    with part(catalogue, TRIM) as record:
        record["stock"]["revision"] = "B"
    said = Said(catalogue, TRIM)
    assert said.fitted == set(), said.fitted


def test_no_label_is_said_when_another_revision_was_approved(demo):  # holds already
    catalogue = demo()
    next_one(catalogue)
    with part(catalogue) as record:
        del record["stock"]["revision"]
    words, said = of_label(catalogue)
    assert FIT not in words | said.words(), said.text


def test_the_label_of_a_revision_that_was_only_tried(demo):
    catalogue = demo()
    with history(catalogue) as record:
        record["events"][-1] |= {"what": "trial opened", "valid_until": "2026-06-30"}
    next_one(catalogue)
    words, said = of_label(catalogue)
    assert FIT not in words, said.text


def test_the_papers_of_the_old_label_are_its_own(demo):
    # the new revision is made of another material; the old one's certificate is exchanged meanwhile
    catalogue = demo()
    next_one(catalogue, older=becomes("use up", "2031-01-01"))
    words, said = of_label(catalogue)
    assert words == {FIT}, said.why
    with depot.material(catalogue) as record:
        for one in record["certificates"]:
            one["type"] = "2.1"
    words, said = of_label(catalogue)
    assert FIT not in words | said.words(), said.why


def test_the_demos_earlier_label_keeps_what_it_was_approved_as(demo):  # holds already
    catalogue = demo(TRIM)
    assert Said(catalogue, TRIM).words("A") <= {FIT, ASK}
    with depot.material(catalogue, "pc-fr-black") as record:
        record["family"] = "PC"
    refuses(catalogue, "changed|material", TRIM, label="A")
