"""The fingerprints of events: the same for the same past, another for any other; vectors worked out by hand."""

import hashlib
import json
from typing import get_args

import pytest
from pydantic import TypeAdapter

from generator.records.approvals import Event
from generator.rules.chain import START, canonical_json, chain, said, texts_to_sign

EVENT: TypeAdapter = TypeAdapter(Event)
PRINTED = {"on": "2026-01-02", "what": "prototype printed", "by": "specialist"}
GIVEN = {"on": "2026-02-02", "what": "customer acceptance given", "by": "keeper", "note": 'ä "b"\nc\\'}
WITHDRAWN = {"on": "2026-03-02", "what": "withdrawn", "by": "keeper", "reason": "cracks"}


def event(content):
    return EVENT.validate_json(json.dumps(content))


def links(*contents):
    return chain(event(each) for each in contents)


def test_the_chain_is_what_sha256_makes_of_texts_written_by_hand():
    first = f'{{"before":"{START}","event":{{"by":"specialist","on":"2026-01-02","what":"prototype printed"}}}}'
    one = hashlib.sha256(first.encode()).hexdigest()
    fields = '"by":"keeper","note":"ä \\"b\\"\\nc\\\\","on":"2026-02-02","what":"customer acceptance given"'
    two = hashlib.sha256(f'{{"before":"{one}","event":{{{fields}}}}}'.encode()).hexdigest()
    assert links(PRINTED, GIVEN) == (one, two)


def test_no_events_have_no_links():
    assert chain(()) == ()


@pytest.mark.parametrize(
    "other",
    [
        [GIVEN, WITHDRAWN],
        [PRINTED, WITHDRAWN],
        [GIVEN, PRINTED, WITHDRAWN],
        [PRINTED | {"by": "keeper"}, GIVEN, WITHDRAWN],
        [PRINTED | {"on": "2026-01-03"}, GIVEN, WITHDRAWN],
        [PRINTED, GIVEN | {"note": "b"}, WITHDRAWN],
        [PRINTED | {"minutes": 25}, GIVEN, WITHDRAWN],
        [PRINTED, PRINTED, GIVEN, WITHDRAWN],
        [PRINTED, GIVEN, WITHDRAWN | {"reason": "Cracks"}],
    ],
    ids=["first gone", "middle gone", "exchanged", "by", "day", "note", "minutes", "twice", "letter"],
)
def test_another_past_ends_otherwise(other):
    assert links(*other)[-1] != links(PRINTED, GIVEN, WITHDRAWN)[-1]


def test_what_comes_later_changes_nothing_before_it():
    assert links(PRINTED, GIVEN, WITHDRAWN)[:2] == links(PRINTED, GIVEN)


def test_a_signature_is_no_part_of_what_it_signs():
    signed = event(GIVEN).model_copy(update={"signed": "text"})
    assert said(signed) == said(event(GIVEN)) == GIVEN


def test_what_is_signed_names_the_part_the_place_and_the_past():
    events = [event(PRINTED), event(WITHDRAWN)]
    fields = '"by":"keeper","on":"2026-03-02","reason":"cracks","what":"withdrawn"'
    second = f'{{"before":"{links(PRINTED)[0]}","event":{{{fields}}},"part":"EX-0001","place":2}}\n'
    assert texts_to_sign("EX-0001", events)[1] == second
    assert texts_to_sign("EX-0001", events)[0].startswith(f'{{"before":"{START}",')


def test_a_field_at_its_default_says_what_its_absence_says():
    assert links(PRINTED | {"evidence": [], "note": None}) == links(PRINTED)


def test_no_event_holds_a_fraction():
    assert '"number"' not in json.dumps(EVENT.json_schema())


def test_every_kind_of_event_says_what_it_is():
    for kind in get_args(get_args(Event)[0]):
        assert kind.model_fields["what"].is_required()


# RFC 8785, section 3.2.2: literals, strings with their escapes, keys in order.
@pytest.mark.parametrize(
    ("value", "text"),
    [
        ({"b": 1, "a": [True, None, "x"]}, '{"a":[true,null,"x"],"b":1}'),
        ('€$\u000f\nA\'B"\\\\"/', '"€$\\u000f\\nA\'B\\"\\\\\\\\\\"/"'),
        ({}, "{}"),
    ],
)
def test_json_has_one_form(value, text):
    assert canonical_json(value) == text


@pytest.mark.parametrize("value", [0.5, {"a": [1.0]}])
def test_a_fraction_is_refused(value):
    with pytest.raises(ValueError, match="no value of an event"):
        canonical_json(value)
