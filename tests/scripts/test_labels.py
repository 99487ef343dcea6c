"""What a label says, typed or scanned, is read out of it; and a number that only looks like a known one is never taken for it."""

import json

import pytest
from py_mini_racer import MiniRacer

from generator.papers.coded import label_text
from tests.browser.bundles import SCRIPTS

BATCHES = [["B-0131", "A"], ["B-0157", "B"], ["L-0018", "A"]]
PART = {"number": "TV-0105", "batches": BATCHES, "numbers": ["TV-0101", "TV-0105", "TV-01", "P.2"]}


@pytest.fixture(scope="module")
def read():
    with MiniRacer() as engine:
        engine.eval(SCRIPTS.room("vehicles") + SCRIPTS.room("judge"))

        def read(text: str) -> dict[str, object]:
            return json.loads(engine.eval(f"JSON.stringify(spares.judge.batchRead({json.dumps(text)}, {json.dumps(PART)}))"))

        yield read


@pytest.mark.parametrize(
    "text",
    [
        "B-0131", "b-0131", " b0131 ", "B 131", "b131", "131", "B–0131", "B—0131", "B‑0131", "B−0131", "B_0131", "B - 0131", "\uff22-0131", "B\u00a00131",
        "TV-0105 A B-0131", "tv-0105 a b-0131", "TV-0105  A  B0131", "TV‑0105 A B‑0131", "TV 0105 A B 0131", "TV-0105 Rev. A B-0131", "TV-0105\tA\tB-0131",
        "TV-0105\nRev. A\nB-0131", "TV-0105 · A · B-0131", "TV-0105 - A - B-0131", "TV-0105/A/B-0131", "B-0131 · TV-0105 · A", "B-0131 TV-0105 A", "TV-0105 B-0131", "A B-0131",
        "https://parts.tarnvale.example/eastmere/parts/TV-0105.html#batch=B-0131", "file:///x/parts/TV-0105.html?batch=b-0131", "#batch=B-0131",
    ],
)  # fmt: skip
def test_the_batch_is_read_out_of_what_its_label_says(read, text: str) -> None:
    assert read(text) == {"batch": "B-0131", "meant": [], "wrong": "", "said": "", "revision": "A"} | {"said": read(text)["said"]}
    assert read(text)["said"] in {"", "A"}


@pytest.mark.parametrize("page", [None, "https://parts.tarnvale.example/eastmere/parts/TV-0105.html"])
def test_what_the_code_of_a_label_holds_is_read(read, page: str | None) -> None:
    code = label_text(number="TV-0105", revision="A", batch="B-0131", name="End cap", page=page).code
    assert (read(code)["batch"], read(code)["wrong"]) == ("B-0131", "")


@pytest.mark.parametrize(
    ("text", "wrong", "said"),
    [
        ("TV-0101 A B-0131", "label_number", "TV-0101"),
        ("TV-0999 A B-0131", "label_number", "TV-0999"),
        ("TV-0105A B-0131", "label_number", "TV-0105A"),
        ("B-0131 · TV-0101 · A", "label_number", "TV-0101"),
        ("https://parts.example/parts/TV-0101.html#batch=B-0131", "label_number", "TV-0101"),
        ("TV-01 05 B-0131", "label_number", "TV-01"),  # as a label of TV-01, revision 05
        ("TV-0105 B B-0131", "label_revision", "B"),
        ("TV-0105 01 B-0131", "label_revision", "01"),
        ("B-0157 · TV-0105 · A", "label_revision", "A"),
        ("A B-0157", "label_revision", "A"),
    ],
)  # fmt: skip
def test_a_label_of_another_part_or_revision_is_told(read, text: str, wrong: str, said: str) -> None:
    found = read(text)
    assert (found["wrong"], found["said"]) == (wrong, said)


@pytest.mark.parametrize(
    ("text", "meant"),
    [
        ("8-0131", "B-0131"), ("B-O131", "B-0131"), ("B-0I31", "B-0131"), ("b-ol3l", "B-0131"), ("BO131", "B-0131"), ("80131", "B-0131"), ("8 - O l 3 l", "B-0131"), ("B-O1S7", "B-0157"),
        ("1-0018", "L-0018"), ("I-OO1B", "L-0018"), ("TV-0105 A B-O131", "B-0131"), ("B-l31", "B-0131"),
    ],
)  # fmt: skip
def test_a_letter_for_a_digit_is_asked_about_and_not_taken(read, text: str, meant: str) -> None:
    found = read(text)
    assert found["meant"] == [meant]
    assert found["batch"] not in {name for name, _ in BATCHES}


@pytest.mark.parametrize("text", ["", " ", "B-0132", "C-0131", "vane", "TV-0105", "TV-0105 A", "B-0131 B-0157 TV-0105", "🔧", "B-", "-0131-", "B" * 10_000, "0 " * 5000, "%", "#batch=%"])
def test_what_is_none_of_them_is_taken_for_none(read, text: str) -> None:
    found = read(text)
    assert (found["meant"], found["revision"]) == ([], "")
