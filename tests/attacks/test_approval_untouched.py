"""What must not change by being careful: the demo keeps its words, and an honest way ends in Fit it."""

import os

import pytest

from tests.attacks import approval_depot as depot
from tests.attacks.approval_depot import (
    ASK,
    CAP,
    FIT,
    HANDLE,
    KNOB,
    NO,
    TRIM,
    Said,
    approve,
    fits,
    history,
    walk,
)
from tests.fixtures.in_process import answered

DEMO = {
    FIT: [
        "TV-0123", "TV-0215", "TV-0227", "TV-0231", "TV-0236", "TV-0248",
        "TV-0249", "TV-0260", "TV-0284", "TV-0288", "TV-0292", "TV-0417",
    ],
    ASK: ["TV-0101", "TV-0104", "TV-0105", "TV-0112", "TV-0203", "TV-0276"],
    NO: ["TV-0118", "TV-0131", "TV-0136", "TV-0207", "TV-0211", "TV-0219", "TV-0223", "TV-0240", "TV-0244", "TV-0252", "TV-0264", "TV-0268", "TV-0280"],
}  # fmt: skip


@pytest.mark.parametrize(
    ("word", "number"), [(word, number) for word, numbers in DEMO.items() for number in numbers]
)
def test_the_demo_keeps_its_word(word, number, tmp_path, warm_store):
    answer = answered(
        ["explain", number, "--on", depot.DAY, "--catalogue", depot.DEMO, "--store", warm_store],
        cwd=depot.ROOT,
        env=os.environ,
    )
    words = [line.split(".")[0] for line in answer.stdout.splitlines() if line.startswith((FIT, ASK, NO))]
    assert words, answer.stdout
    assert words[0] == word, answer.stdout


@pytest.mark.parametrize("number", [KNOB, CAP, HANDLE])
def test_a_part_of_the_demo_alone_is_fitted(demo, number):
    fits(demo(number), number)


def test_the_trim_of_the_demo_keeps_both_words(demo):
    said = Said(demo(TRIM), TRIM)
    assert said.words() == {NO}
    assert said.words("A") <= {FIT, ASK}


def test_records_that_are_only_written_otherwise_are_fitted(demo):
    catalogue = demo()
    for opened in (depot.part, depot.history, depot.material, depot.makers, depot.roles):
        with opened(catalogue):
            pass
    fits(catalogue)


@pytest.mark.parametrize("number", [KNOB, CAP])
def test_the_whole_way_with_the_commands_is_fitted(demo, number):
    catalogue = demo(number)
    with history(catalogue, number) as record:
        depot.cut(record, "prototype printed")
    walk(catalogue, number)
    answer = approve(catalogue, "--despite-warnings", number=number)
    assert answer.returncode == 0, answer.stdout + answer.stderr
    fits(catalogue, number)


def test_the_whole_way_of_the_authority_is_fitted(demo):
    catalogue = demo(HANDLE)
    with history(catalogue, HANDLE) as record:
        depot.cut(record, "prototype printed")
    walk(catalogue, HANDLE)
    sent = depot.record(catalogue, HANDLE, "sent to the authority", "keeper", "--reference", "FE-26-1")
    assert sent.returncode == 0, sent.stdout + sent.stderr
    answer = approve(catalogue, "--despite-warnings", number=HANDLE, by="authority", scope=depot.ENTRANCE)
    assert answer.returncode == 0, answer.stdout + answer.stderr
    fits(catalogue, HANDLE)


@pytest.mark.parametrize("left_out", ["sent to technical review", "sent to the authority"])
def test_the_authoritys_way_needs_both_reviews(demo, left_out):
    catalogue = demo(HANDLE)
    with history(catalogue, HANDLE) as record:
        record["events"] = [
            one
            for one in record["events"]
            if one["what"] not in (left_out, "question asked", "question answered")
        ]
    depot.refuses(catalogue, "review|authority|without", HANDLE)


def test_the_authoritys_reviews_change_places(demo):
    catalogue = demo(HANDLE)
    with history(catalogue, HANDLE) as record:
        events = record["events"]
        first, second = (
            next(i for i, one in enumerate(events) if one["what"] == name)
            for name in ("sent to technical review", "sent to the authority")
        )
        events[first], events[second] = events[second], events[first]
        events[first]["on"], events[second]["on"] = events[second]["on"], events[first]["on"]
    depot.refuses(catalogue, "review|authority|without|order", HANDLE)
