"""What is made of all records says so first where some of them could not be read, and ends with 1: a plan that is short is no plan."""

import json
from pathlib import Path

import pytest

from generator.edge.refusals import Ending

COMMANDS = (("stock",), ("savings",), ("today",), ("today", "--minutes", "45"), ("families",), ("holds",), ("report", "--month", "2026-10"))
BROKEN = {
    "a batch that is no YAML": ("batches/B-0001.yml", "xx: [\n"),
    "a part whose price is a text": ("parts/EX-0001-lid-knob/part.yml", None),
    "a line of what was fitted": ("fitted/2026.csv", "day,fleet,vehicle,place,position,batch,count,removed_batch,removed,why,by,row\n2026/10-12,A1,11,cab,,,1,,,,fitter,\n"),
    "a material": ("materials/pa12.yml", "name: [\n"),
}


def broken(what):
    name, text = BROKEN[what]
    file = Path("catalogue", name)
    if text is None:
        text = file.read_text(encoding="utf-8") + "yearly_demand: '14,8'\n"
    file.parent.mkdir(exist_ok=True)
    file.write_text(text, encoding="utf-8")
    return name


@pytest.mark.parametrize("what", BROKEN)
def test_whatever_cannot_be_read_is_named_first(depot, spares, what):
    if what == "a material":
        BROKEN[what] = (f"materials/{min(each.name for each in Path('catalogue/materials').glob('*.yml'))}", "name: [\n")
    name = broken(what)
    for command in COMMANDS:
        code, out, _ = spares(*command)
        first, *rest = out.splitlines()
        assert (code, first) == (Ending.PROBLEMS, "This list is incomplete."), command
        assert any(name in line for line in rest[:6]), command
        assert "Nothing is to be ordered or printed now." not in out


def test_what_is_whole_says_nothing_of_it(depot, spares):
    for command in COMMANDS:
        code, out, err = spares(*command)
        assert (code, err) == (Ending.CLEAN, ""), command
        assert "incomplete" not in out


@pytest.mark.parametrize(
    ("file", "line"),
    [("depot.yml", "hours_per_week: 169\n"), ("depot.yml", "hours_per_week: abc\n"), ("makers.yml", "xx: [\n"), ("makers.yml", "own: {kind: nobody}\n")],
)
def test_without_depot_and_makers_nothing_is_planned(depot, spares, file, line):
    with Path("catalogue", file).open("a", encoding="utf-8") as stream:
        stream.write(line)
    for command in COMMANDS[:5]:
        code, out, err = spares(*command)
        assert code == Ending.PROBLEMS, command
        assert out.startswith(f"catalogue/{file}:"), "the mistake stands before, with its line"
        assert all(line.startswith((f"catalogue/{file}:", "    mend: ")) for line in out.splitlines()), "and nothing else"
        assert f"{file}: has a mistake, and nothing can be planned without it" in err


def test_of_a_part_whose_batch_cannot_be_read_nobody_says_that_there_is_enough(depot, spares):
    Path("catalogue/batches").mkdir()
    Path("catalogue/batches/B-0001.yml").write_text("part: EX-0001\nxx: [\n", encoding="utf-8")
    told = json.loads(spares("stock", "--format", "json")[1])
    assert not told["is_complete"]
    assert [each["file"] for each in told["unread"]] == ["batches/B-0001.yml"]
    assert {each["state"] for each in told["parts"]} == {"unread"}, "of which part it is nobody knows"
    assert not told["orders"]
    assert not told["prints"]
