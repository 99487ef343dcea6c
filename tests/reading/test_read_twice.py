"""What is read again is read as if for the first time: of other bytes, another file or another kind nothing is kept over."""

import pytest

from generator.reading.validating import record
from generator.reading.yaml_places import read_yaml
from generator.records.makers import Makers
from generator.records.prints import Prints
from tests.fixtures.tiny import DEPOT

RAW = (DEPOT / "makers.yml").read_bytes()
SPOILT = RAW.replace(b"build_volume_mm:", b"build_volum_mm:", 1)


def test_what_one_reader_does_to_a_file_no_other_one_sees():
    first = read_yaml("makers.yml", RAW)
    first.content["makers"].clear()
    first.problems.append("said")
    first.values.clear()
    again = read_yaml("makers.yml", RAW)
    assert len(record(Makers, again).makers) == RAW.count(b"- id:")
    assert (again.problems, bool(again.values)) == ([], True)


def test_the_same_bytes_may_be_the_same_record():
    assert record(Makers, read_yaml("makers.yml", RAW)) == record(Makers, read_yaml("other.yml", RAW))


def test_one_changed_letter_makes_another_record():
    name = record(Makers, read_yaml("makers.yml", RAW)).makers[0].name
    changed = RAW.replace(name.encode(), name.encode() + b"x", 1)
    assert record(Makers, read_yaml("makers.yml", changed)).makers[0].name == f"{name}x"
    assert record(Makers, read_yaml("makers.yml", RAW)).makers[0].name == name


def test_the_same_bytes_are_no_record_of_another_kind():
    assert record(Makers, read_yaml("makers.yml", RAW))
    other = read_yaml("prints.yml", RAW)
    assert record(Prints, other) is None
    assert other.problems


@pytest.mark.parametrize("file", ["makers.yml", "elsewhere/makers.yml"])
def test_a_mistake_is_told_each_time_at_its_own_file(file):
    assert SPOILT != RAW
    for _ in range(2):
        source = read_yaml(file, SPOILT)
        assert record(Makers, source) is None
        assert {each.where.file for each in source.problems} == {file}


def test_what_is_left_open_is_found_wherever_it_stands():
    source = read_yaml("makers.yml", RAW.replace(b"print counter", b"'TODO: where?'"))
    assert record(Makers, source) is None
    assert [each.code for each in source.problems] == ["REC04"]
