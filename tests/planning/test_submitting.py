"""Which sum does the record of a step keep? What `spares record` writes down tells it."""

import pytest

from generator.edge.commands.record import EVENTS
from generator.planning.submitting import RECORDED_AS, Asks, keeps_sum

# From a reader of the record: who tries or renews finds no text written down, who reviews does.
KEPT = {Asks.ACCEPTANCE: False, Asks.REVIEW: True, Asks.AUTHORITY: True, Asks.RENEWAL: False, Asks.CHANGE: False, Asks.CONFIRMATION: False}


@pytest.mark.parametrize("asked", Asks)
def test_only_the_record_of_a_review_keeps_what_was_submitted(asked):
    assert keeps_sum(asked) is KEPT[asked]
    assert RECORDED_AS[asked] in EVENTS.values(), "it can be recorded"
    assert keeps_sum(asked) is ("submitted_as" in RECORDED_AS[asked].model_fields)
