"""`spares queries`: what people looked for in vain is collected whole or not at all, counted, and answered as of today."""

import json
import os
import threading

import pytest
import yaml

from generator.edge.disk.writing_lock import held
from tests.edge.conftest import bytes_of, names_in
from tests.edge.test_request import REQUEST, VOICE, jpeg, with_photo

QUERIES = """\
collected: 2026-11-24
looked_for:
  - {text: "buffer beam widget", times: 3, last: 2026-11-24}
  - {text: "Kob", times: 1, last: 2026-11-20}
"""
LOOKED_FOR = """\
looked_for:
  - {text: "toggel", times: 2, last: 2026-11-24}
  - {text: "zigzag flange", times: 1, last: 2026-11-02}
"""
ONE = "collected: 2026-11-24\nlooked_for:\n  - {text: TEXT, times: TIMES, last: LAST}\n"
RTL = "ידית מכסה"


def one(text="knurl", times="1", last="2026-11-24"):
    return ONE.replace("TEXT", text).replace("TIMES", times).replace("LAST", last)


def collected(depot):
    return bytes_of(depot / "catalogue/queries") if (depot / "catalogue/queries").is_dir() else {}


def listed(spares):
    code, out, err = spares("queries", "--format", "json")
    assert (code, err) == (0, "")
    return json.loads(out)


def test_a_file_is_collected_and_read_again(depot, sent, spares):
    code, out, err = spares("queries", "add", sent(QUERIES))
    assert (code, err) == (0, "")
    ((name, raw),) = collected(depot).items()
    assert f"queries/{name}" in out
    assert name.startswith("2026-11-24-")
    assert yaml.safe_load(raw) == yaml.safe_load(QUERIES)
    assert spares("check")[0] == 0


def test_a_dry_run_writes_nothing_and_shows_all(depot, sent, spares):
    before = bytes_of(depot / "catalogue")
    code, out, _ = spares("queries", "add", sent(QUERIES), "--dry-run")
    assert code == 0
    assert "Would be written" in out
    assert "buffer beam widget" in out
    assert bytes_of(depot / "catalogue") == before


def test_the_same_list_twice_is_told_and_changes_nothing(depot, sent, spares):
    first = sent(QUERIES)
    again = sent(QUERIES.replace("{text", "{  text") + "# saved twice\n", "again.yml")
    assert spares("queries", "add", first)[0] == 0
    before = bytes_of(depot / "catalogue")
    for files in ((first,), (again,)):
        code, out, _ = spares("queries", "add", *files)
        assert code == 0
        assert "in the catalogue already" in out
    assert bytes_of(depot / "catalogue") == before
    other = sent(QUERIES.replace("widget", "gadget"), "other.yml")
    code, out, _ = spares("queries", "add", first, other, other, again)  # what is new gets in all the same
    assert code == 0
    assert len(collected(depot)) == 2


BAD = [
    pytest.param(QUERIES.replace("2026-11-20", "2026-11-26").replace("collected: 2026-11-24", "collected: 2026-11-26"),
                 ":1:", "is dated 2026-11-26, which is still to come", id="a day to come"),
    pytest.param(QUERIES.replace("2026-11-20", "2026-11-25"), ":4:", "2026-11-25, after 2026-11-24", id="later than collected"),
    pytest.param(one(last="2026-02-30"), ":3:", "not a day that exists", id="a day that is none"),
    pytest.param(one(last="1970-01-01"), ":3:", "before 1990", id="the clock's first day"),
    pytest.param(one(times="-3"), ":3:", "times", id="negative"),
    pytest.param(one(times="0"), ":3:", "times", id="never"),
    pytest.param(one(times="1.5"), ":3:", "whole number", id="half a time"),
    pytest.param(one(times='"3"'), ":3:", "whole number", id="a number as text"),
    pytest.param(one(times="true"), ":3:", "whole number", id="true is no number"),
    pytest.param(one(times="99999999999999999999"), ":3:", "times", id="more often than anybody types"),
    pytest.param(one(text='""'), ":3:", "is empty", id="nothing"),
    pytest.param(one(text='"   "'), ":3:", "is empty", id="blanks"),
    pytest.param(one(text=f'"{"x" * 241}"'), ":3:", "longer than 240 letters", id="241 letters"),
    pytest.param(one(text=f'"{"x" * 10_000}"'), ":3:", "longer than 240 letters", id="10,000 letters"),
    pytest.param(one(text='"a\\nb"'), ":3:", "line break or tab", id="two lines"),
    pytest.param(one(text='"a\\u0007b"'), ":3:", "U+0007", id="a control"),
    pytest.param(one(text='"a\\u202eb"'), ":3:", "U+202E", id="turns the reading direction"),
    pytest.param(one(text="405"), ":3:", "where a text is needed", id="a bare number"),
    pytest.param(one(text="{a: b}"), ":3:", "where a text is needed", id="keys for a text"),
    pytest.param(one().replace("times: 1", "time: 1"), ":3:", "is not a key", id="a misspelt key"),
    pytest.param(one() + "by: fitter\n", ":4:", "by", id="who it was has no place"),
    pytest.param("collected: 2026-11-24\n", "", "'looked_for' is missing", id="no list"),
    pytest.param("collected: 2026-11-24\nlooked_for: []\n", ":2:", "too few entries", id="an empty list"),
    pytest.param("collected: 2026-11-24\nlooked_for:\n" + '  - {text: "a", times: 1, last: 2026-11-24}\n' * 10_000,
                 ":", "holds more than 10,000", id="10,000 entries"),
    pytest.param("collected: 2026-11-24\nlooked_for:\n" + '  - {text: "a", times: 1, last: 2026-11-24}\n' * 201,
                 ":3:", "too many entries", id="201 entries"),
    pytest.param("- a\n- b\n", ":1:", "", id="a list"),
    pytest.param("", "", "empty", id="an empty file"),
    pytest.param(b"\xff\xfe\x00", "", "UTF-8", id="no text"),
    pytest.param(b"a: b\0", "", "", id="a NUL byte"),
    pytest.param("a: &a [*a]\n", "", "", id="an anchor"),
    pytest.param(REQUEST, ":1:", "", id="a request"),
]  # fmt: skip


@pytest.mark.parametrize(("text", "line", "says"), BAD)
def test_a_bad_file_is_told_with_its_line_and_nothing_gets_in_by_halves(depot, sent, spares, text, line, says):
    good, bad = sent(QUERIES, "good.yml"), sent(text, "bad.yml")
    before = bytes_of(depot / "catalogue")
    code, out, err = spares("queries", "add", good, bad)
    assert code == 1
    assert f"{bad}{line}" in out
    assert says in out
    assert "mend: " in out
    assert "nothing is added" in err
    assert "good.yml" not in out
    assert bytes_of(depot / "catalogue") == before


def test_a_file_that_is_not_there_or_no_file(depot, sent, spares):
    for name in ("missing.yml", "catalogue", "x" * 300):
        code, _out, err = spares("queries", "add", sent(QUERIES, "good.yml"), name)
        assert code == 1
        assert "nothing is added" in err
    assert collected(depot) == {}


@pytest.mark.parametrize(
    "text",
    [
        pytest.param("<script>alert(1)</script> <b>&amp;", id="markup"),
        pytest.param("[red]knurl[/red] :gear:", id="markup of a terminal"),
        pytest.param("{{ 7*7 }} {% raw %} | `x` # no comment: - *y*", id="templates and Markdown"),
        pytest.param("Rändelmutter 🔧👩\u200d🔧", id="emoji"),
        pytest.param(RTL, id="right to left"),
        pytest.param(".*(a+)+$ [^", id="regex signs"),
        pytest.param("'quoted' \"twice\" \\ back", id="quotes"),
        pytest.param("x" * 240, id="240 letters"),
        pytest.param("0417", id="digits with a nought"),
        pytest.param("yes", id="a word that YAML takes for true"),
    ],
)
def test_odd_texts_stay_what_they_are(depot, sent, spares, text):
    assert spares("queries", "add", sent(one(text=json.dumps(text, ensure_ascii=False))))[0] == 0
    (raw,) = collected(depot).values()
    assert yaml.safe_load(raw)["looked_for"][0]["text"] == text
    assert spares("check")[0] == 0
    assert [each["text"] for each in listed(spares)["queries"]] == [text]
    _, out, _ = spares("queries")
    assert yaml.safe_load(out.partition("words.yml")[2].partition("\n\n")[2] or "{}") is not None
    assert "\x07" not in out


def test_texts_that_mean_the_same_count_together_most_frequent_first(sent, spares):
    first = (
        "collected: 2026-11-20\nlooked_for:\n"
        "  - {text: Bogie  Widget, times: 2, last: 2026-11-18}\n"
        "  - {text: seldom xyzzy, times: 1, last: 2026-11-19}\n"
    )
    second = (
        "collected: 2026-11-24\nlooked_for:\n"
        "  - {text: bogie widget, times: 3, last: 2026-11-22}\n"
        "  - {text: often qwertz, times: 4, last: 2026-11-23}\n"
    )
    assert spares("queries", "add", sent(first, "1.yml"), sent(second, "2.yml"))[0] == 0
    told = [(each["text"], each["times"], each["hand_overs"], each["last"]) for each in listed(spares)["queries"]]
    assert told == [
        ("bogie widget", 5, 2, "2026-11-22"),
        ("often qwertz", 4, 1, "2026-11-23"),
        ("seldom xyzzy", 1, 1, "2026-11-19"),
    ]


def test_what_is_found_by_now_falls_to_the_end(sent, spares):
    text = (
        "collected: 2026-11-24\nlooked_for:\n"
        "  - {text: knob, times: 9, last: 2026-11-23}\n"
        "  - {text: xyzzy, times: 1, last: 2026-11-24}\n"
    )
    assert spares("queries", "add", sent(text))[0] == 0
    vain, found = listed(spares)["queries"]
    assert (vain["text"], vain["found_now"]) == ("xyzzy", [])
    assert (found["text"], found["found_now"]) == ("knob", ["EX-0001"])
    code, out, _ = spares("queries")
    assert code == 0
    assert "found now: EX-0001" in out
    assert out.index("xyzzy") < out.index("found now")


def test_spellings_are_proposed_and_never_written(depot, sent, spares):
    text = "collected: 2026-11-24\nlooked_for:\n  - {text: cratch levver wibble, times: 4, last: 2026-11-24}\n"
    assert spares("queries", "add", sent(text))[0] == 0
    before = bytes_of(depot / "catalogue")
    assert listed(spares)["words"]["spellings"] == {"levver": "lever"}
    _, out, _ = spares("queries")
    lines = out[out.index("spellings:") :]
    assert yaml.safe_load(lines.partition("\n\n")[0])["spellings"] == {"levver": "lever"}
    assert "4 times" in lines
    assert bytes_of(depot / "catalogue") == before


def test_a_synonym_is_proposed_where_the_same_hand_over_asked_for_it(depot, sent, spares):
    request = REQUEST.replace("name: Blind cord toggle", "name: Blind cord stop") + LOOKED_FOR.replace("toggel", "wobbler")
    assert spares("request", "add", sent(request))[0] == 0
    words = listed(spares)["words"]
    assert words["synonyms"] == [["Blind cord stop", "wobbler"]]  # not 'zigzag flange': that was on another day
    _, out, _ = spares("queries")
    assert "R-0001" in out[out.index("synonyms:") :]
    (depot / "catalogue/words.yml").write_text("synonyms:\n  - [Blind cord stop, wobbler]\n", encoding="utf-8")
    assert listed(spares)["words"]["synonyms"] == []


def test_nothing_collected_is_said(depot, spares):
    code, out, _ = spares("queries")
    assert code == 0
    assert "Nothing" in out
    assert listed(spares) == {"queries": [], "words": {"spellings": {}, "synonyms": []}}


def test_a_request_brings_what_was_looked_for(depot, sent, spares):
    code, out, _ = spares("request", "add", sent(with_photo(jpeg(), REQUEST + LOOKED_FOR)))
    assert code == 0
    ((name, raw),) = collected(depot).items()
    assert f"queries/{name}" in out
    kept = yaml.safe_load(raw)
    assert (str(kept["collected"]), kept["with_request"]) == ("2026-11-24", "R-0001")
    assert kept["looked_for"] == yaml.safe_load(LOOKED_FOR)["looked_for"]
    assert b"looked_for" not in (depot / "catalogue/requests/R-0001.yml").read_bytes()
    assert spares("check")[0] == 0


def test_a_voice_brings_what_was_looked_for(depot, sent, spares):
    assert spares("request", "add", sent(VOICE + LOOKED_FOR))[0] == 0
    (raw,) = collected(depot).values()
    assert yaml.safe_load(raw)["with_request"] == "coat-hook"
    assert b"looked_for" not in (depot / "catalogue/requests/coat-hook.yml").read_bytes()
    assert spares("check")[0] == 0


def test_a_dry_run_of_a_request_writes_no_queries_and_tells_them(depot, sent, spares):
    code, out, _ = spares("request", "add", sent(REQUEST + LOOKED_FOR), "--dry-run")
    assert code == 0
    assert "queries/2026-11-24-" in out
    assert collected(depot) == {}


def test_a_request_handed_over_after_a_change_counts_once(depot, sent, spares):
    assert spares("request", "add", sent(REQUEST + LOOKED_FOR))[0] == 0
    assert spares("request", "add", sent(REQUEST.replace("toggle", "knot") + LOOKED_FOR))[0] == 0
    assert len(collected(depot)) == 1


def test_a_bad_list_in_a_request_keeps_the_request_out_too(depot, sent, spares):
    before = bytes_of(depot / "catalogue")
    code, out, _ = spares("request", "add", sent(REQUEST + LOOKED_FOR.replace("2026-11-02", "2026-11-25")))
    assert code == 1
    assert "2026-11-25, after 2026-11-24" in out
    assert spares("request", "add", sent(REQUEST + LOOKED_FOR.replace("times: 2", "times: -2")))[0] == 1
    assert bytes_of(depot / "catalogue") == before


def test_a_request_dropped_in_by_hand_is_told_until_it_is_added(depot, spares):
    file = depot / "catalogue/requests/R-0009.yml"
    file.write_text(REQUEST + LOOKED_FOR, encoding="utf-8")
    _, out, _ = spares("check")
    assert "still holds what was looked for" in out
    assert spares("request", "add", file)[0] == 0
    assert b"looked_for" not in file.read_bytes()
    assert len(collected(depot)) == 1
    code, out, _ = spares("check")
    assert (code, "REQ01" in out) == (0, False)


def test_a_file_dropped_into_the_folder_counts_as_it_stands(depot, sent, spares):
    (depot / "catalogue/queries").mkdir()
    (depot / "catalogue/queries/monday.yml").write_text(QUERIES, encoding="utf-8")
    assert spares("check")[0] == 0
    assert len(listed(spares)["queries"]) == 2
    assert "queries/monday.yml" in spares("queries", "add", sent(QUERIES))[1]
    assert collected(depot).keys() == {"monday.yml"}


def test_it_waits_for_who_writes(depot, sent, spares):
    file, began, done = sent(QUERIES), threading.Event(), threading.Event()

    def hold():
        with held(depot / "catalogue", "record EX-0001", lambda _: None):
            began.set()
            done.wait(30)

    other = threading.Thread(target=hold)
    other.start()
    began.wait(30)
    threading.Timer(2.0, done.set).start()
    code, _, err = spares("queries", "add", file)
    other.join()
    assert code == 0
    assert "Waiting for another command: spares record EX-0001" in err
    assert len(collected(depot)) == 1


@pytest.mark.parametrize("before", [True, False], ids=["before the action", "behind it"])
def test_the_catalogue_that_is_named_is_the_one_that_is_written(depot, sent, spares, before):
    other = ("--catalogue", (depot / "catalogue").rename(depot / "other"))
    file = sent(QUERIES)
    assert spares("queries", *(other if before else ()), "add", file, *(() if before else other))[0] == 0
    assert len(names_in(depot / "other/queries")) == 1
    assert "widget" in spares("queries", *other)[1]


def test_a_file_where_the_folder_should_be_is_no_folder(depot, sent, spares):
    (depot / "catalogue/queries").write_text("mine", encoding="utf-8")
    code, _, err = spares("queries", "add", sent(QUERIES))
    assert code == 1
    assert "writing" in err
    assert (depot / "catalogue/queries").read_text(encoding="utf-8") == "mine"


def test_a_full_disk_leaves_nothing_behind(depot, sent, spares, monkeypatch):
    files = [sent(QUERIES, "1.yml"), sent(QUERIES.replace("widget", "gadget"), "2.yml")]
    (depot / "catalogue/queries").mkdir()

    def full(*_):
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(os, "fsync", full)
    code, _, err = spares("queries", "add", *files)
    assert code == 1
    assert "the disk is full" in err
    assert names_in(depot / "catalogue/queries") == []


def test_a_second_file_that_cannot_be_written_takes_the_first_back(depot, sent, spares, monkeypatch):
    files = [sent(QUERIES, "1.yml"), sent(QUERIES.replace("widget", "gadget"), "2.yml")]
    real, calls = os.fsync, []

    def full(handle):
        calls.append(handle)
        if len(calls) > 1:
            raise OSError(28, "No space left on device")
        real(handle)

    monkeypatch.setattr(os, "fsync", full)
    assert spares("queries", "add", *files)[0] == 1
    assert len(calls) == 2
    assert names_in(depot / "catalogue/queries") == []
