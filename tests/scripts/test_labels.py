"""What a label says, typed or scanned, is read out of it alike by the browser and by the commands."""

import json
from pathlib import Path
from typing import Any

import pytest
from py_mini_racer import MiniRacer

from generator.papers.coded import label_text
from generator.records.labels import LabelOf, batch_read
from tests.browser.bundles import SCRIPTS

CASES: dict[str, Any] = json.loads((Path(__file__).parents[1] / "rules/labels.json").read_text(encoding="utf-8"))


@pytest.fixture(scope="module")
def browser():
    with MiniRacer() as engine:
        engine.eval(SCRIPTS.room("labels"))
        yield lambda call, *given: json.loads(engine.eval(f"JSON.stringify(spares.labels.{call}({', '.join(map(json.dumps, given))}))"))


def in_python(text: str, of: dict[str, Any]) -> dict[str, Any]:
    held = LabelOf(number=of["number"], batches=tuple(map(tuple, of["batches"])), numbers=tuple(of["numbers"]))
    read = batch_read(text, held)
    return {"batch": read.batch, "meant": list(read.meant), "wrong": read.wrong, "said": read.said, "revision": read.revision}


@pytest.mark.parametrize("case", CASES["cases"], ids=lambda case: f"{case['of']}:{case['text'][:60]}")
def test_both_read_what_was_typed_or_scanned(browser, case: dict[str, Any]) -> None:
    of = CASES["of"][case["of"]]
    expected = {key: case[key] for key in ("batch", "meant", "wrong", "said", "revision")}
    assert browser("batchRead", case["text"], of) == expected
    assert in_python(case["text"], of) == expected


def test_they_agree_on_every_text_held_against_every_part(browser) -> None:
    texts = [case["text"] for case in CASES["cases"]]
    texts += [text[:at] + sign + text[at:] for text in texts if 5 < len(text) < 40 for at, sign in ((3, " "), (4, "-"), (5, "0"), (len(text), "A"))]
    for of in CASES["of"].values():
        assert [browser("batchRead", text, of) for text in texts] == [in_python(text, of) for text in texts]


@pytest.mark.parametrize("page", [None, "https://parts.tarnvale.example/eastmere/parts/TV-0105.html"])
def test_what_the_code_of_a_label_holds_is_read(browser, page: str | None) -> None:
    code = label_text(number="TV-0105", revision="A", batch="B-0131", name="End cap", page=page).code
    read = browser("batchRead", code, CASES["of"]["part"])
    assert (read["batch"], read["wrong"]) == ("B-0131", "")


@pytest.mark.parametrize(
    ("pairs", "asked"),
    [
        ([["batch", "B-0131"]], ["B-0131"]),
        ([["Batch", " b 131 "]], ["b 131"]),
        ([["BATCH", "B-0131"]], ["B-0131"]),
        ([["x", "1"], ["amp;batch", "B-0131"]], ["B-0131"]),
        ([["amp;amp;Batch", "B-0131"]], ["B-0131"]),
        ([["batch", ""]], [""]),
        ([["Revision", "z"], ["rev", ""]], ["Rev. Z"]),
        ([["Batch", "B-0131"], ["batch", "B-0132"]], ["B-0131", "B-0132"]),
        ([["vehicle", "B-0131"], ["x", "1"], ["serie", "7"], ["", ""]], []),
    ],
)
def test_an_address_asks_for_a_piece_however_its_key_is_written(browser, pairs: list[list[str]], asked: list[str]) -> None:
    assert browser("piecesAsked", pairs, ["B-0131"]) == asked


@pytest.mark.parametrize(
    ("pairs", "batch", "wrong"),
    [
        ([["batch", "B-0131"], ["revision", "A"]], "B-0131", ""),
        ([["rev", "a"], ["BATCH", "B-0131"]], "B-0131", ""),
        ([["batch", "TV-0105 A B-0131"], ["revision", ""]], "B-0131", ""),
        ([["batch", "B-0131"], ["revision", "B"]], "B-0131", "label_revision"),
        ([["REV", "Z"], ["batch", "b131"]], "B-0131", "label_revision"),
        ([["batch", "B-0131"], ["revision", "A"], ["rev", "B"]], "", ""),
        ([["batch", "B-0131"], ["revision", "not this one"]], "B-0131", "label_revision"),
        ([["batch", "TV-0105 A B-0131"], ["revision", "B"]], "", ""),
    ],
)
def test_a_revision_beside_the_batch_in_an_address_is_held_against_it(browser, pairs: list[list[str]], batch: str, wrong: str) -> None:
    of = CASES["of"]["part"]
    (asked,) = browser("piecesAsked", pairs, [name for name, _ in of["batches"]])
    read = browser("batchRead", asked, of)
    assert (read["batch"] if read["batch"] in dict(of["batches"]) else "", read["wrong"]) == (batch, wrong), asked


@pytest.mark.parametrize("key", ["serie", "los", "Los", "piece", "b", "batch2", "batches", "batch[]", "rev", "b a t c h", "q", "amp;amp"])
@pytest.mark.parametrize("value", ["B-0131", "b0131", "B 0131", "TV-0105 B-0131"])
def test_a_batch_under_another_key_is_read_as_none(browser, key: str, value: str) -> None:
    """Whoever wrote the address meant something by it, and no label says what."""
    of = CASES["of"]["part"]
    (asked,) = browser("piecesAsked", [[key, value]], [name for name, _ in of["batches"]])
    read = browser("batchRead", asked, of)
    assert read["batch"] not in {name for name, _ in of["batches"]}
    assert browser("asBatch", asked) in ("", None)


@pytest.mark.parametrize(("key", "value"), [("b", "152"), ("batches", "B-0999"), ("Batch_no", "x"), ("B", "B-9"), ("serie", "b 999"), ("amp;los", "B-0999"), ("batches", "1,2")])
def test_a_strange_batch_under_another_key_is_asked_about(browser, key: str, value: str) -> None:
    (asked,) = browser("piecesAsked", [[key, value]], ["B-0131"])
    assert browser("asBatch", asked) in ("", None)
    assert browser("piecesAsked", [[key, value]], []) == [asked], "of a part without batches"


@pytest.mark.parametrize(("key", "value"), [("part", "TV-0105"), ("Part", "TV-0105"), ("vehicle", "B-9"), ("q", "lid knob 38"), ("utm_source", "mail"), ("b", ""), ("x", "1")])
def test_what_means_no_piece_asks_for_none(browser, key: str, value: str) -> None:
    assert browser("piecesAsked", [[key, value]], ["B-0131"]) == []


@pytest.mark.parametrize(
    ("pairs", "asked"),
    [([], None), ([["batch", ""]], ""), ([["Batch", "B-0131"], ["batch", "B-0131"]], "B-0131"), ([["Batch", "B-0131"], ["batch", "B-0132"]], "B-0131, B-0132"), ([["batch", ""], ["BATCH", "b 1"]], "b 1")],
)
def test_two_pieces_of_an_address_are_two(browser, pairs: list[list[str]], asked: str | None) -> None:
    assert browser("pieceAsked", pairs, ["B-0131"]) == asked


def test_no_text_makes_a_batch_of_what_is_none(browser) -> None:
    """A known batch comes out only of a text that holds its digits as digits."""
    of = CASES["of"]["part"]
    names = {name for name, _ in of["batches"]}
    for case in CASES["cases"]:
        for at in range(min(len(case["text"]), 40)):
            text = case["text"][:at] + "O" + case["text"][at + 1 :]
            read = browser("batchRead", text, of)
            digits = str(int(read["batch"].partition("-")[2])) if read["batch"] in names else ""
            assert digits in text
