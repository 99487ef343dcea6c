"""What was printed is held against what is approved line by line: who prints another thing under the same number is told in what."""

import pytest

from generator.rules.changes import Means
from generator.rules.production.printed import differences, is_printed_text, maker_in, printed_text
from tests.rules.test_stated import text

APPROVED = text(4)
PRINTED = printed_text(APPROVED, "bench")


def told(printed, approved=APPROVED):
    return [(each.what, each.means) for each in differences(printed, approved)]


def without(start):
    return "".join(line for line in PRINTED.splitlines(keepends=True) if not line.startswith(start))


def test_the_text_tells_the_piece_and_nothing_of_papers_places_and_other_machines():
    """Worked out by hand from the canonical text of the example, whose lines stand in tests/rules/test_consequences.py."""
    kinds = {line.split(": ")[0].split(' "')[0] for line in PRINTED.splitlines()}
    settings = {f"setting {each}" for each in ("orientation", "layer mm", "wall mm", "infill percent", "support", "after print")}
    assert kinds == {"spares print", "number", "revision", "mesh sha256", "mesh units", "material", "maker", "check"} | settings
    assert [line for line in PRINTED.splitlines() if line.startswith("maker")] == [
        'maker "bench": "material extrusion"', 'maker "bench" kind: "in-house"', 'maker "bench" name: "Bench A, hall 2"', 'maker "bench" machine model: "XT-300"',
    ]  # fmt: skip
    assert is_printed_text(PRINTED)
    assert not is_printed_text(APPROVED)
    assert not is_printed_text(PRINTED.replace("print: 1", "print: 2"))
    bought = 'number: "X"\nno model: "yes"\nno model size mm: 3\nwith "Insert" material: "brass"\nfitting steps: none\n'
    assert printed_text(bought, "bench") == 'spares print: 1\nnumber: "X"\nno model: "yes"\nwith "Insert" material: "brass"\n'


def test_a_piece_printed_as_approved_differs_in_nothing():
    assert told(PRINTED) == []


@pytest.mark.parametrize(
    ("was", "now", "line"),
    [
        ('"A"\n', '"B"\n', "revision"),
        ("layer mm: 0.2", "layer mm: 0.3", "setting layer mm"),
        ('material: "petg"', 'material: "nylon"', "material"),
        ("plus mm: 0.2", "plus mm: 0.4", 'check "Bore" plus mm'),
        ('"material extrusion"', '"powder bed fusion"', 'maker "bench"'),
        ('"XT-300"', '"XT-900"', 'maker "bench" machine model'),
    ],
)
def test_each_line_that_is_other_makes_another_piece(was, now, line):
    assert was in PRINTED
    assert told(PRINTED.replace(was, now)) == [(line, Means.VOID)]


def test_a_line_that_was_left_out_of_what_was_printed_is_told():
    assert told(without("setting wall mm")) == [("setting wall mm", Means.VOID)]
    assert told(without('maker "bench" name')) == [('maker "bench" name', Means.VOID)]


def test_a_line_that_the_approval_does_not_have_is_told():
    assert told(PRINTED + 'setting up: "+z"\n') == [("setting up", Means.ASK)]
    assert told(PRINTED.replace('kind: "in-house"', 'kind: "bureau"')) == [('maker "bench" kind', Means.VOID)]


def test_a_machine_that_nobody_approved_is_told_also_where_it_is_like_one_that_is():
    like = PRINTED.replace('"bench"', '"bench-2"')
    assert told(like) == [('maker "bench-2"', Means.ASK)]
    other = like.replace('"material extrusion"', '"powder bed fusion"')
    assert ('maker "bench-2"', Means.VOID) in told(other)


def test_of_the_machine_only_what_both_tell_counts_where_an_older_form_told_its_process_alone():
    older = text(2)
    assert 'maker "bench" name' not in older
    assert told(PRINTED, older) == []
    assert told(PRINTED.replace('"material extrusion"', '"powder bed fusion"'), older) == [('maker "bench"', Means.VOID)]


@pytest.mark.parametrize(
    ("printed", "approved"),
    [
        ("", APPROVED),
        (PRINTED.replace("spares print: 1\n", ""), APPROVED),
        (PRINTED.replace("print: 1", "print: 2"), APPROVED),
        (PRINTED + "number: twice\n", APPROVED),
        (PRINTED + "a line of no form\n", APPROVED),
        (without('maker "bench":'), APPROVED),
        (PRINTED + 'maker "bureau": "powder bed fusion"\n', APPROVED),
        (PRINTED, text(1)),
        (PRINTED, "nothing that is read here\n"),
    ],
)
def test_what_cannot_be_read_differs_in_everything(printed, approved):
    assert told(printed, approved) == [("spares print", Means.VOID)]


def test_the_maker_is_told_where_there_is_one():
    assert maker_in(PRINTED) == "bench"
    assert maker_in(printed_text(APPROVED, 'a "b"')) is None  # no such maker in the text
    assert maker_in('spares print: 1\nmaker "a \\"b\\"": none\n') == 'a "b"'
    assert maker_in(PRINTED + 'maker "bureau": "powder bed fusion"\n') is None
    assert maker_in(without("maker")) is None
