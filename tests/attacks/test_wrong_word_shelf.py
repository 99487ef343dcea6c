"""Parts on the shelf: their labels, and what the tablet says of them."""

import re
from datetime import UTC, datetime
from pathlib import Path

import pytest

from tests.attacks import wrong_word_depot as depot
from tests.attacks.wrong_word_depot import (
    ALL,
    DAY,
    FIT,
    NO,
    event,
    superseded,
    way,
)
from tests.browser.patience import wait_until


def after(ending, permit, *later):
    """Revision A was approved everywhere on A1, then ended; the way was walked anew before what follows."""
    return [*way(), permit(), ending, *way("2026-04"), *later]


def test_stock_without_a_label_is_named_once_two_revisions_were_approved_or_tried(permit, history):
    bare = {"stock": {"place": "R1", "on_shelf": 3}}
    catalogue = history.catalogue([*way(), permit(), permit("B", on="2026-06-01")], revision="B", **bare)
    assert any("revision" in problem and "part.yml" in problem for problem in depot.told(catalogue))
    trial = permit("B", "A1:11:cab", on="2026-06-01", what="trial opened")
    seconds = {
        "approved": ("B", [permit("B", on="2026-06-01")]),
        "tried": ("B", [trial]),
        "tried and closed": ("A", [trial, event("2026-07-01", "trial closed", reason="done")]),
        "lapsed": ("A", [permit("B", on="2026-06-01", until="2026-07-31")]),
        "ended": ("B", [superseded(), *way("2026-04"), permit("B", on="2026-05-15")]),
    }
    for name, (revision, events) in seconds.items():
        assert history([*way(), permit(), *events], revision=revision, **bare).fitted() == set(), name


def test_stock_without_a_label_is_fine_while_one_revision_alone_was_approved(
    permit, history
):  # holds already
    bare = {"stock": {"place": "R1", "on_shelf": 3}}
    catalogue = history.catalogue(
        [*way(), permit(), permit("A", "A1:11:cab", on="2026-06-01", what="trial opened")], **bare
    )
    assert depot.told(catalogue) == []
    assert depot.Words(catalogue).on(11) == {FIT}


@pytest.mark.parametrize(
    ("events_of", "revision", "label"),
    [
        (lambda permit: [*way(), permit()], "A", "Z"),
        (lambda permit: [*way(), permit("B")], "B", "A"),
        (lambda permit: [*way(), permit()], "C", "C"),
        (lambda permit: [*way(), permit(), permit("B", "A1:11:cab", on="2026-06-01")], "B", "C"),
        (lambda permit: after(superseded(), permit, permit("B", on="2026-05-15")), "B", "0"),
    ],
    ids=["Z", "older", "own but not approved", "newer", "after an ending"],
)
def test_a_label_of_a_revision_that_nobody_approved_is_a_mistake(permit, history, events_of, revision, label):
    words = history(events_of(permit), revision=revision, label=label)
    assert re.search(r"part\.yml.*revision", words.text), words.text
    assert words.fitted() == set()


def test_a_label_is_fitted_only_where_its_own_revision_was_approved(permit, history):  # holds already
    newer = permit("B", "A1:12-13:cab", on="2026-06-01", uses_up="A")
    words = history([*way(), permit("A", "A1:11-12:cab"), newer], "B", "A")
    assert words.fitted("A") == {(11, "Driver's cab"), (12, "Driver's cab")}
    assert words.on(13) == {FIT}
    assert words.on(11) == {NO}


# The tablet judges with its own code


@pytest.mark.browser
def test_the_tablet_says_of_these_histories_what_the_command_line_must_say(base, chromium):
    catalogue = depot.copy_of_the_depot(base / "tablet")
    trial = ("--trial", "--pieces", "2")
    plans = {  # number: revision now, label, permits and endings in their order
        "EX-0101": ("B", "A", [("A", ALL, "2026-01-15", ()), "superseded", ("B", ALL, "2026-05-15", ())]),
        "EX-0102": (
            "A",
            None,
            [("A", ALL, "2026-01-15", ("--condition", "Ask.")), ("A", "A1:11:cab", "2026-06-01", trial)],
        ),
        "EX-0103": ("B", None, [("A", ALL, "2026-01-15", ()), ("B", ALL, "2026-05-15", ())]),
        "EX-0104": ("A", "Z", [("A", ALL, "2026-01-15", ())]),
    }
    # Of other lengths, for what is nearly as large as another is laid onto it, by every command that comes to a new pair.
    for number, long in zip((*plans, "EX-0900"), (121, 60, 85, 170, 40), strict=True):
        depot.write_part(catalogue, mesh=depot.box(20, 20, long), number=number)
    depot.write_part(catalogue, number="EX-0900", name="Newer knob")
    depot.write_events(catalogue, [], "EX-0900")
    for number, (revision, label, steps) in plans.items():
        _walk(catalogue, number, steps)
        shelf = {"place": "R1", "on_shelf": 3} | ({"revision": label} if label else {})
        depot.write_part(catalogue, number=number, revision=revision, stock=shelf)
    built = depot.run(
        catalogue, "build", "--site", str(base / "site"), "--config", str(depot.ROOT / "mkdocs.yml")
    )
    assert built.returncode == 0, built.stderr
    seen = _read(chromium, base / "site", list(plans))
    assert FIT not in {word for label, word in seen["EX-0101"] if label == "A"}
    assert FIT in {
        word for label, word in seen["EX-0101"] if label != "A"
    }  # the control: the script has judged
    for number in ("EX-0102", "EX-0103", "EX-0104"):
        assert FIT not in {word for _, word in seen[number]}, number


def _walk(catalogue, number, steps):
    events = way()
    for step in steps:
        if step == "superseded":
            events += [superseded(), *way("2026-04")]
            continue
        revision, scope, on, more = step
        depot.write_part(catalogue, number=number, revision=revision)
        depot.write_events(catalogue, events, number)
        answer = depot.approve(catalogue, *more, number=number, scope=scope, on=on)
        assert answer.returncode == 0, answer.stderr
        events = depot.read_events(catalogue, number)
    depot.write_events(catalogue, events, number)


def _read(chromium, site, numbers):
    seen, page = {}, chromium.new_page()
    page.clock.set_fixed_time(datetime.fromisoformat(f"{DAY}T12:00:00").replace(tzinfo=UTC))
    for number in numbers:
        page.goto(Path(site, "parts", f"{number}.html").as_uri())
        # without its script the page says Ask first and why; wait until the script has judged
        wait_until(page, "!document.body.innerText.includes('Without scripts')")
        boxes = page.query_selector_all(".verdict")
        seen[number] = [
            (one.get_attribute("data-label"), one.query_selector(".verdict__word").inner_text().strip())
            for one in boxes
        ]
    page.close()
    return seen
