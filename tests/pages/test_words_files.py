"""No words file says two things under one key: the later one would silently win."""

from pathlib import Path

import pytest

from generator.reading.yaml_places import read_yaml

PAGES = Path(__file__).parents[2] / "generator" / "pages"
FILES = sorted(PAGES.rglob("*.yml"))


@pytest.mark.parametrize("file", FILES, ids=lambda file: f"{file.parent.name}/{file.name}")
def test_no_key_stands_twice(file):
    assert read_yaml(file.name, file.read_bytes()).problems == []


def test_a_key_that_stands_twice_is_seen():
    assert read_yaml("x.yml", b"finder:\n  label: a\n  label: b\n").problems
