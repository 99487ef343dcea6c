"""Values come back from the YAML they were written as."""

import pytest
import yaml
from hypothesis import given
from hypothesis import strategies as st

from generator.reading.yaml_places import read_yaml
from generator.records.problems import wrong
from generator.writing.yaml_text import mapping_lines, scalar

# Everything a record may hold: no control characters (records/base.py) and no byte order mark in the middle.
LETTERS = st.characters(codec="utf-8", exclude_categories=("Cc", "Cs"))
TEXTS = st.text(LETTERS, min_size=1)
LINES = st.lists(st.text(LETTERS), min_size=1, max_size=4).map("\n".join)
PLAIN = st.none() | st.booleans() | st.integers(-(10**15), 10**15) | TEXTS
KEYS = st.from_regex(r"[a-z][a-z_]{0,8}", fullmatch=True)
CONTENT = st.dictionaries(
    KEYS,
    PLAIN | LINES | st.lists(TEXTS, max_size=3) | st.lists(st.dictionaries(KEYS, TEXTS, min_size=1)),
    min_size=1,
)


def read(lines):
    found = read_yaml("test.yml", ("\n".join(lines) + "\n").encode())
    assert not found.problems
    return found.content


@given(CONTENT)
def test_what_is_written_reads_back_the_same(content):
    assert read(mapping_lines(content)) == content


def test_what_is_read_belongs_to_who_reads_it():
    first = read_yaml("a.yml", b"a: [1, {b: x}]\n")
    first.content["a"][1]["b"] = "spoilt"
    first.values.clear()
    first.problems.append(wrong("YAML01", "too long", bytes=1))
    again = read_yaml("a.yml", b"a: [1, {b: x}]\n")
    assert (again.content, again.problems) == ({"a": [1, {"b": "x"}]}, [])
    assert again.where(("a", 1, "b")).line == 1
    assert again.where(("a", 1, "b")).column > 1
    assert read_yaml("b.yml", b"a: [1, {b: x}]\n").where(()).file == "b.yml"


@given(TEXTS)
def test_a_text_stays_a_text_for_another_yaml_1_1_reader_too(text):
    # PyYAML's own safe loader reads YAML 1.1, where far more plain words are numbers, dates or booleans.
    value = yaml.safe_load(f"key: {scalar(text)}\n")["key"]
    assert str(value) == text


@pytest.mark.parametrize(
    ("value", "line"),
    [
        ("letter TR-25-019", "key: letter TR-25-019"),
        ("2026-11-25", "key: 2026-11-25"),
        ("no", 'key: "no"'),
        ("0417", 'key: "0417"'),
        ("a: b", 'key: "a: b"'),
        ("Lid #3", 'key: "Lid #3"'),
        (True, "key: true"),
        (["401-412"], 'key: ["401-412"]'),
        ([], "key: []"),
    ],
)
def test_lines_read_well(value, line):
    assert mapping_lines({"key": value}) == [line]


def test_texts_of_several_lines_are_literal_blocks():
    assert mapping_lines({"text": "a: 1\n# b\n"}, "  ") == ["  text: |", "    a: 1", "    # b"]
