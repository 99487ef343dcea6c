"""What becomes of pieces with an older label: what a storeman may rely on who finds one of revision A once B is approved."""

from datetime import timedelta

import pytest

from tests.rules.test_history import START, WAY, told

CAB = [{"fleet": "A1", "vehicles": [11], "places": ["cab"]}]
SECOND_DAY = START + timedelta(days=10 * 2 * len(WAY))
"""On which B is approved: events are ten days apart."""


def says(becomes, revision="A", until=None):
    return {"revision": revision, "becomes": becomes, **({"until": until} if until else {})}


def of(revision, *said, vehicle=11, **more):
    """An approval of a revision, for a vehicle of its own so that no two speak of the same."""
    scope = [{**CAB[0], "vehicles": [vehicle]}]
    return ("approved", {"revision": revision, "bound": ("EX-0001", revision, f"mesh {revision}"), "scope": scope, "older_stock": list(said), **more})


def settles(*said, **more):
    return ("older stock settled", {"older_stock": list(said), **more})


AGAIN = WAY[1:]
USE_UP = says("use up", until=SECOND_DAY + timedelta(days=90))


def walked(*after, first=()):
    """A approved, the whole way walked again, and then what comes."""
    return (*WAY, of("A", *first), *AGAIN, *after)


def wrongs(*whats):
    return [(each.code, each.key, each.mend) for each in told(*whats).problems]


@pytest.mark.parametrize("how", ["in the approval", "later"])
@pytest.mark.parametrize(
    ("said", "wrong"),
    [
        (USE_UP, None),
        (says("stop"), None),
        (says("call back"), None),
        (says("use up", until=SECOND_DAY + timedelta(days=10)), None),  # of its last day it may be used
        (says("use up"), "no end"),
        (says("use up", until=SECOND_DAY - timedelta(days=1)), "over"),
        (says("use up", until=SECOND_DAY.replace(year=SECOND_DAY.year + 31)), "too long"),
        (says("stop", "C"), "no older one"),
        (says("stop", "B"), "no older one"),  # the newest is none
    ],
)
def test_what_can_be_said_of_older_pieces(how, said, wrong):
    whats = walked(of("B", said, vehicle=12)) if how == "in the approval" else walked(of("B", vehicle=12), settles(said))
    assert [key for _, key, _ in wrongs(*whats)] == ([wrong] if wrong else [])


def test_whoever_names_no_older_revision_is_told_which_there_are():
    (found,) = told(*walked(of("B", says("stop", "Z"), vehicle=12))).problems
    assert (found.mend, dict(found.facts)["known"], dict(found.facts)["revision"]) == ("older", ("A",), "Z")
    assert wrongs(*walked(of("B", vehicle=12), first=[says("stop", "Z")])) == [("APPR34", "no older one", "none")]
    assert wrongs(*WAY, settles(says("stop"))) == [("APPR34", "no older one", "none")]


def stock(*whats):
    """What is known of each older revision in the end; None of one that nobody has settled."""
    return {revision: word and str(word.becomes) for revision, word in told(*whats).older_stock.items()}


B, C = of("B", vehicle=12), of("C", vehicle=13)
CASES = {
    "the first approval leaves none behind": ((*WAY, of("A")), {}),
    "approved again": ((*WAY, of("A"), *AGAIN, of("A", vehicle=12)), {}),
    "a newer one says nothing": (walked(B), {"A": None}),
    "a newer one says it": (walked(of("B", says("stop"), vehicle=12)), {"A": "stop"}),
    "somebody says it later": (walked(B, settles(says("call back"))), {"A": "call back"}),
    "somebody says otherwise later": (walked(of("B", USE_UP, vehicle=12), settles(says("stop"))), {"A": "stop"}),
    "to be used up, by a letter": (walked(of("B", USE_UP, vehicle=12)), {"A": "use up"}),
    "to be used up, by nobody's letter": (walked(of("B", USE_UP, vehicle=12, evidence=False)), {"A": None}),
    "stopped, by nobody's letter": (walked(B, settles(says("stop"), evidence=False)), {"A": "stop"}),
    "a letter that is missing takes no stop away": (walked(of("B", says("stop"), vehicle=12), settles(USE_UP, evidence=False)), {"A": "stop"}),
    "what is stopped stays so with the next": (walked(of("B", says("stop"), vehicle=12), *AGAIN, C), {"A": "stop", "B": None}),
    "what is called back stays so with the next": (walked(of("B", says("call back"), vehicle=12), *AGAIN, C), {"A": "call back", "B": None}),
    "what is used up is settled anew by the next": (walked(of("B", USE_UP, vehicle=12), *AGAIN, C), {"A": None, "B": None}),
    "the newest, approved for more vehicles, changes nothing": (walked(of("B", USE_UP, vehicle=12), *AGAIN, of("B", vehicle=13)), {"A": "use up"}),
    "an older one is approved again": (walked(of("B", says("stop"), vehicle=12), *AGAIN, of("A", vehicle=13)), {"B": None}),
    "other events say nothing of it": (walked(of("B", USE_UP, vehicle=12), "condition added"), {"A": "use up"}),
}  # fmt: skip


@pytest.mark.parametrize("case", CASES)
def test_what_is_known_of_each_older_label(case):
    whats, known = CASES[case]
    assert stock(*whats) == known


def test_who_said_it_and_until_when_is_remembered():
    (word,) = told(*walked(of("B", USE_UP, vehicle=12))).older_stock.values()
    assert (word.event.on, word.said.until, word.said.revision) == (SECOND_DAY, SECOND_DAY + timedelta(days=90), "A")
