"""An event comes in behind the last one; every byte that was there stays where it was."""

import pytest

from generator.reading.yaml_places import read_yaml
from generator.writing.appending import CannotAppendError, with_event

EVENT = {"on": "2026-11-25", "what": "question asked", "by": "keeper", "question": "Why?\n# really"}
HEAD = "route: customer  # who approves\n# what happened\nevents:\n"
FIRST = "  - on: 2026-01-02\n    what: design started\n    by: keeper\n"
TAIL = '\n# an aid only\nscreening:\n  judged_significant: "no"\n'
RECORDS = {
    "last in the file": HEAD + FIRST,
    "no line end at the end": (HEAD + FIRST).rstrip("\n"),
    "another key behind": HEAD + FIRST + TAIL,
    "comment behind the last line": HEAD + FIRST.rstrip("\n") + "  # a role\n" + TAIL,
    "comment under it": HEAD + FIRST + "    # to be continued\n" + TAIL,
    "block with a hash as its last line": HEAD + FIRST + "    note: |\n      one\n      # two\n\n\n" + TAIL,
    "folded text": HEAD + FIRST + "    note: >-\n      one\n      two\n" + TAIL,
    "evidence last": HEAD + FIRST + "    evidence:\n      - file: a.pdf\n        sha256: x\n" + TAIL,
    "list in brackets last": HEAD + FIRST + "    conditions: [a,\n      b]  # two\n" + TAIL,
    "dashes under the key": HEAD + FIRST.replace("  - ", "- ").replace("    ", "  ") + TAIL,
    "deep indent": HEAD + "".join(f"      {line}\n" for line in FIRST.splitlines()) + TAIL,
    "events last, screening first": "route: customer\nscreening: {}\nevents:\n" + FIRST,
    "quoted over two lines": HEAD + FIRST + '    note: "one\n      two"\n' + TAIL,
    "letters beyond ASCII": HEAD.replace("who", "wér 😀") + FIRST + "    note: Tür מ\n" + TAIL,
    "an end sign": HEAD + FIRST + "...\n",
}


@pytest.mark.parametrize("bom", [b"", b"\xef\xbb\xbf"], ids=["", "with a mark"])
@pytest.mark.parametrize("end", ["\n", "\r\n"], ids=["lf", "crlf"])
@pytest.mark.parametrize("text", RECORDS.values(), ids=RECORDS)
def test_every_byte_stays(text, end, bom):
    raw = bom + text.replace("\n", end).encode()
    before = read_yaml("approval.yml", raw)
    assert not before.problems
    found = with_event(raw, EVENT)

    at = found.content.index(found.added.encode())
    kept = found.content[:at] + found.content[at + len(found.added.encode()) :]
    assert kept in (raw, raw + end.encode())  # a last line without its end gets one

    behind = [sign for sign in (b"# an aid only", b"# to be continued", b"...") if sign in raw]
    assert all(at < found.content.index(sign) for sign in behind)

    after = read_yaml("approval.yml", found.content)
    assert not after.problems
    assert after.content == before.content | {"events": [*before.content["events"], EVENT]}
    assert "\r" not in found.content.decode().replace("\r\n", "")
    assert (end == "\n") == ("\r\n" not in found.added)


def test_it_stands_as_the_others_stand():
    found = with_event(RECORDS["another key behind"].encode(), EVENT)
    assert found.added == (
        "  - on: 2026-11-25\n    what: question asked\n    by: keeper\n    question: |-\n      Why?\n      # really\n"
    )
    assert found.content.decode() == HEAD + FIRST + found.added + TAIL


def test_twice_is_two_events_in_order():
    raw = RECORDS["another key behind"].encode()
    once = with_event(raw, EVENT).content
    twice = with_event(once, EVENT | {"by": "stores"}).content
    events = read_yaml("approval.yml", twice).content["events"]
    assert [event["by"] for event in events] == ["keeper", "keeper", "stores"]


@pytest.mark.parametrize(
    "text",
    [
        "route: customer\n",
        "route: customer\nevents: []  # none yet\nscreening: {}\n",
        "\ufeffroute: customer\nevents: []  # none yet\n",
    ],
)
def test_the_first_event(text):
    found = with_event(text.encode(), EVENT)
    after = read_yaml("approval.yml", found.content)
    assert (after.problems, after.content["events"]) == ([], [EVENT])
    assert all(line in found.content.decode() for line in text.replace("[]", "").splitlines())


@pytest.mark.parametrize(
    ("text", "line"),
    [("route: customer\nevents: [{on: 2026-01-02}]\n", 2), ("{route: customer, events: []}\n", 1)],
)
def test_events_in_brackets_are_left_to_a_person(text, line):
    with pytest.raises(CannotAppendError) as error:
        with_event(text.encode(), EVENT)
    assert error.value.problem.where.line == line


@pytest.mark.parametrize(
    ("before", "after"),
    [
        ("a: 1\n...\n", 'a: 1\nevents:\n  - on: "y"\n...\n'),
        ("a: 1\n...", 'a: 1\nevents:\n  - on: "y"\n...'),
        ("a: 1\n# c\n... # d\n# e\n", 'a: 1\n# c\nevents:\n  - on: "y"\n... # d\n# e\n'),
        ("events:\n- on: x\n...\n", 'events:\n- on: x\n- on: "y"\n...\n'),
        ("events:\n- on: |\n   x\n...\n", 'events:\n- on: |\n   x\n- on: "y"\n...\n'),
        ("events: []\n...\n", 'events: \n  - on: "y"\n...\n'),
    ],
)
def test_the_mark_of_the_end_stays_at_the_end(before, after):
    assert with_event(before.encode(), {"on": "y"}).content.decode() == after


def test_what_is_not_one_record_is_not_added_to():
    with pytest.raises(CannotAppendError) as error:
        with_event(b"events: []\n---\nb: 1\n", {"on": "y"})
    assert error.value.problem.key == "no record"
