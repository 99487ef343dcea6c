"""Does an approval confirm what was submitted, and which letters and roles may say that it need not?"""

import pytest

from generator.rules.canonical import fingerprint, from_record
from generator.rules.history import event_of, history
from tests.fixtures.told import all_said
from tests.rules import cases
from tests.rules.test_adversary import CAB_11, DAY, WAY, case, event, grant, said

ANOTHER = ("EX-0001", "A", "another mesh")
NEXT = ("EX-0001", "B", "another mesh")
CHANGED = grant(bound=ANOTHER)


def record(*events, **other):
    return cases.approval(case(*events, **other))


def wrongs(approval):
    """Code and sentence of everything that is wrong."""
    found = history(approval, DAY).problems
    all_said(found)
    return [(each.code, each.key) for each in found]


def with_event(approval, place, **changes):
    events = list(approval.events)
    events[place] = events[place].model_copy(update=changes)
    return approval.model_copy(update={"events": tuple(events)})


def letter(name):
    return {"file": f"documents/{name}.txt", "sha256": cases.letter_of({"letter": name})["sha256"]}


def asked(name, **more):
    """Something else than was submitted, approved since the letter of that name asked for it."""
    changes = {"reference": "R-7", "evidence": letter(name)}
    return grant(bound=ANOTHER, changes_asked=changes, **more)


def submitted(*events, bound=("EX-0001", "A", "m")):
    """The way, on which `bound` was submitted whatever is approved behind it."""
    return (*WAY[:2], *(event(what, by, submitted=bound) for what, by, _ in WAY[2:]), *events)


def test_what_was_submitted_is_approved():
    assert wrongs(record(*submitted(grant()))) == []
    assert wrongs(record(*submitted(CHANGED))) == [("APPR31", "part")]


def test_the_reviewers_letter_asks_for_the_change():
    assert wrongs(record(*submitted(asked("review")))) == []


@pytest.mark.parametrize("own", ["approval", "the same under another name"])
def test_the_letter_of_approval_has_asked_for_nothing(own):
    """It came with the approval: nobody asked for the change before it. What counts is the file, not its name."""
    one = asked("approval", letter="approval")
    if own != "approval":
        one[2]["changes_asked"]["evidence"] |= {"file": "documents/copy.txt"}
    assert wrongs(record(*submitted(one))) == [("APPR31", "own letter")]
    assert said(*submitted(one), now=ANOTHER)[CAB_11] == "no"


def test_minutes_of_the_acceptance_ask_for_no_change():
    way = submitted(asked("minutes"))
    accepted = (way[1][0], way[1][1], way[1][2] | {"letter": "minutes"})
    assert wrongs(record(way[0], accepted, *way[2:])) == [("APPR33", "minutes as letter")]


# Which steps are carried over, and who says so


def carried(by="keeper", steps=("prototype", "acceptance")):
    """Revision B, submitted and reviewed; the other steps are those of revision A."""
    more = {"steps": steps, "why": "A chamfer.", "by": by, "reference": "R-8", "evidence": letter("carried")}
    sent = [event(what, who, submitted=NEXT) for what, who, _ in WAY[2:]]
    return (*WAY, grant(), *sent, grant(bound=NEXT, carries_over=more))


def test_who_may_approve_may_carry_steps_over():
    assert wrongs(record(*carried())) == []


def test_whoever_made_it_carries_no_step_over():
    assert wrongs(record(*carried(by="specialist"))) == [("APPR12", "by its maker")]
    (told,) = history(record(*carried(by="specialist")), DAY).problems
    assert dict(told.facts) == {"what": "approved", "by": "specialist"}
    assert said(*carried(by="specialist"), now=NEXT)[CAB_11] == "no"


@pytest.mark.parametrize("steps", [("prototype",), ("acceptance",), ("documents", "review")])
def test_a_step_that_is_not_named_is_walked_anew(steps):
    assert wrongs(record(*carried(steps=steps))) == [("APPR32", "not anew")]


# Where it was submitted for


def without(approval, place):
    """The record whose submission says nothing of a place on A1."""
    lines = approval.events[2].submitted_as.splitlines(keepends=True)
    text = "".join(line for line in lines if f'"A1" "{place}"' not in line)
    return told_so(approval, text)


def told_so(approval, text):
    """The record with that text in its submission, and sent to the review so."""
    said_so = with_event(approval, 2, submitted_as=text, fingerprint=fingerprint(from_record(text)))
    return with_event(said_so, 3, submitted_as=None, fingerprint=fingerprint(from_record(text)))


BOTH = [{"fleet": "A1", "vehicles": [11, 12], "places": ["cab", "door"]}]
CAB = [{"fleet": "A1", "places": ["cab"]}]


def test_a_place_that_was_not_submitted_is_not_approved():
    whole = record(*WAY, grant(BOTH))
    assert wrongs(whole) == []
    assert wrongs(without(whole, "door")) == [("APPR31", "place")]
    assert wrongs(without(whole, "cab")) == [("APPR31", "place")]


def test_a_place_that_is_not_approved_need_not_be_submitted():
    assert wrongs(without(record(*WAY, grant(CAB)), "door")) == []


def test_a_place_that_was_submitted_otherwise_is_not_approved():
    whole = record(*WAY, grant(CAB))
    text = whole.events[2].submitted_as
    assert 'at "A1" "cab" hazard level: "HL2"' in text
    assert wrongs(told_so(whole, text.replace('"cab" hazard level: "HL2"', '"cab" hazard level: "HL1"'))) == [("APPR31", "place")]


# A submission that says only half


KEYS = ("revision", "submitted_as", "fingerprint")


@pytest.mark.parametrize("place", [2, 3], ids=["documents complete", "sent to technical review"])
@pytest.mark.parametrize(
    "left_out",
    [
        ["fingerprint"],
        ["revision"],
        ["revision", "fingerprint"],
        ["revision", "submitted_as"],
        ["submitted_as", "fingerprint"],
    ],
    ids=str,
)
def test_a_submission_that_says_only_half_is_wrong(place, left_out):
    spoilt = with_event(record(*WAY, grant()), place, **dict.fromkeys(left_out))
    first = history(spoilt, DAY).problems[0]
    assert (first.code, first.key, event_of(first)) == ("APPR30", "half", place)


def test_the_review_alone_may_leave_out_the_text_that_stands_above():
    whole = record(*WAY, grant())
    assert wrongs(with_event(whole, 3, submitted_as=None)) == []
    assert wrongs(with_event(whole, 2, submitted_as=None)) == [("APPR30", "not above")]


@pytest.mark.parametrize("silent", [["sent to technical review"], ["documents complete", "sent to technical review"]], ids=len)
def test_a_review_that_says_nothing_is_asked_about(silent):
    """As older records are: nothing is wrong with it, and nobody knows what lay before the reviewer."""
    way = [event(what, by, submitted=None) if what in silent else event(what, by) for what, by, _ in WAY]
    assert wrongs(record(*way, grant())) == []
    assert said(*way, grant())[CAB_11] == "ask"
