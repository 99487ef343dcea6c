"""Facts are laid down at once: none is missing, none is made up, and what is told of a piece stands over what was there."""

from dataclasses import FrozenInstanceError, fields, replace

import pytest

from generator.rules.facts.fields import Facts, PieceFacts
from tests.fixtures.tiny import DEPOT, KNOB, sheets


@pytest.fixture(scope="module")
def facts():
    found, _ = sheets(DEPOT, only=KNOB)
    return found[0].grounds[0].permits[0]


def test_they_are_what_a_record_set_field_by_field_would_be(facts):
    piece = PieceFacts(piece_batch="nobody's")
    by_field = Facts(**{each.name: getattr(facts, each.name) for each in fields(Facts)})
    assert facts == by_field
    assert facts.of_piece(piece) == replace(by_field, **vars(piece), **piece.replaced)


def test_the_text_of_what_they_were_before_is_not_theirs(facts):
    before = facts.text
    after = facts.of_piece(PieceFacts(piece_batch="nobody's")).text
    assert before["piece_batch"] != after["piece_batch"] == "nobody's"


def test_they_stay_as_they_are(facts):
    with pytest.raises(FrozenInstanceError):
        facts.of_piece(PieceFacts()).mistake = "yes"


@pytest.mark.parametrize(("taken", "added"), [({"piece_batch"}, {}), (set(), {"unheard": "yes"})], ids=["missing", "not known"])
def test_one_that_is_missing_or_not_known_is_an_error(facts, taken, added):
    said = {name: value for name, value in vars(facts).items() if name not in taken and name != "text"}
    with pytest.raises(TypeError, match="piece_batch" if taken else "unheard"):
        Facts._said(said, added)
