"""On how many pieces has a critical dimension to be measured before a batch is released? From the side of who measures too few."""

from dataclasses import replace

import pytest

from generator.records.parts import SafetyRole
from generator.rules.production.checked import found, in_order, limits_of, short_of, wanted_of
from generator.rules.production.releasing import judged_releases
from tests.fixtures.prints import BATCH, batch_of, printed_catalogue, with_production
from tests.fixtures.production import batch
from tests.fixtures.tiny import KNOB

TEXT = 'spares print: 1\ncheck "Bore" nominal mm: 6.0\ncheck "Bore" plus mm: 0.1\ncheck "Bore" minus mm: 0.0\n'


def measured(count, on="2026-01-08", until="2026-12-31", **gauged):
    one = {"check": "Bore", **({"values_mm": (6.05,) * count} if count else {}), "gauge": "caliper", "calibrated_until": until, **gauged}
    return {"what": "measured", "on": on, "by": "specialist", "checks": (one,)}


def scrapped(count):
    return {"what": "scrapped", "on": "2026-01-08", "by": "specialist", "count": count, "why": "tried"}


def wanted(sample, *events, is_safety=False):
    """Of a batch of four: on how many it should have been, where it was on fewer."""
    text = TEXT + ("" if sample is None else f'check "Bore" sample: {sample}\n')
    of = batch(4, events=events).model_copy(update={"printed_as": text})
    return short_of(limits_of(text)["Bore"], found(of), is_safety=is_safety)


@pytest.mark.parametrize(
    ("sample", "events", "is_safety", "expected"),
    [
        (None, [measured(1)], False, None),
        (None, [measured(1)], True, 4),
        (None, [measured(3)], True, 4),
        (None, [measured(4)], True, None),
        ('"first"', [measured(1)], True, None),  # the part says so itself
        ('"every"', [measured(3)], False, 4),
        ('"every"', [measured(4)], False, None),
        ('"every"', [measured(2), measured(2)], False, 4),  # of two lists nobody knows whether they are of the same pieces
        ('"every"', [scrapped(1), measured(3)], False, None),
        ('"every"', [measured(4), scrapped(1)], False, None),
        ('"every"', [measured(3), scrapped(1)], False, 3),  # the one that is gone may be one that was measured
        ('"every"', [measured(0, passed=4, failed=0)], False, None),
        ('"every"', [measured(4, until="2026-01-07"), measured(1)], False, 4),
        ("2", [measured(1)], False, 2),
        ("2", [measured(2)], False, None),
        ("9", [measured(4)], False, None),  # no more than there are
        ("9", [measured(3)], False, 4),
        ("2", [scrapped(3), measured(1)], False, None),
        ("0", [measured(1)], False, 4),
        ('"some"', [measured(1)], False, 4),  # what cannot be read asks for every piece
        ("-1", [measured(1)], False, 4),
    ],
)
def test_how_many_have_to_be_measured(sample, events, is_safety, expected):
    assert wanted(sample, *events, is_safety=is_safety) == expected


def against(catalogue, count):
    events = [
        {"on": "2026-02-12", "what": "measured", "by": "specialist",
         "checks": [{"check": "Bore", "values_mm": [6.02] * count, "gauge": "pin gauges P-2", "calibrated_until": "2026-09-30"}]},
        {"on": "2026-02-13", "what": "released", "by": "keeper"},
    ]  # fmt: skip
    of = batch_of(events=events)
    return of.count, [each for found_ in judged_releases(BATCH, of, with_production(catalogue, batches={BATCH: of})).values() for each in found_]


@pytest.mark.parametrize("role", [SafetyRole.NONE, SafetyRole.SAFETY, None])
def test_of_a_part_with_a_safety_role_every_piece_is_measured(role):
    """Of a part that cannot be read nobody knows the role."""
    catalogue = printed_catalogue()
    folders = tuple(
        replace(each, part=each.part.model_copy(update={"safety_role": role}) if role else None) if each.number == KNOB else each
        for each in catalogue.parts
    )
    catalogue = replace(catalogue, parts=folders)
    all_of_it, told = against(catalogue, 2)
    if role is SafetyRole.NONE:
        assert told == []
    else:
        assert [(each.key, dict(each.facts)["measured"], dict(each.facts)["wanted"]) for each in told] == [("too few of safety", 2, all_of_it)]
        assert against(catalogue, all_of_it)[1] == []


@pytest.mark.parametrize(
    ("sample", "is_safety", "expected"),
    [(None, False, 1), (None, True, 4), ('"first"', True, 1), ('"every"', False, 4), ("3", False, 3), ("9", False, 4), ("nonsense", False, 4)],
)
def test_a_sheet_asks_for_what_the_release_will_ask_for(sample, is_safety, expected):
    """As many as the rule calls short of, where nothing has been measured."""
    text = TEXT + ("" if sample is None else f'check "Bore" sample: {sample}\n')
    limited = limits_of(text)["Bore"]
    assert wanted_of(limited, 4, is_safety=is_safety) == expected == wanted(sample, is_safety=is_safety)
    assert wanted_of(limited, 0, is_safety=is_safety) >= 1


def test_dimensions_stand_in_the_order_of_the_record_and_none_is_left_out():
    text = "".join(f'check "{name}" {what} mm: 1.0\n' for name in ("A", "B", "C") for what in ("nominal", "plus", "minus"))
    assert [each.name for each in in_order(text, ["C", "gone", "A", "C"])] == ["C", "A", "B"]
    assert [each.name for each in in_order(text, [])] == ["A", "B", "C"]
