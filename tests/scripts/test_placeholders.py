"""The tablet and the records call the same gauges none."""

import json

from py_mini_racer import MiniRacer

from generator.records.placeholders import BLANK, identifies_nothing
from tests.browser.bundles import SCRIPTS
from tests.records.test_empty_words import NO_NUMBER, NO_REASON, NUMBERS, REASONS
from tests.records.test_placeholders import ANSWERS, NONE, TO_COME

OF = {"batch": "B-1", "count": 1, "from": "2026-01-01"}
CHECK = {"kind": "mm", "values": ["1"], "until": "2026-12-31"}


def test_both_say_so_of_every_text():
    with MiniRacer() as engine:
        for room in ("vehicles", "labels", "finder", "request"):
            engine.eval(SCRIPTS.room(room))

        def is_none(text: str) -> bool:
            typed = {"pieces": "1", "day": "2026-02-01", "by": "a", "note": "", "checks": [{**CHECK, "gauge": text}]}
            data = {"roles": [{"id": "a"}], "blank": BLANK}
            return "0 gauge" in json.loads(engine.eval(f"JSON.stringify(spares.request.inspectionProblems({json.dumps(typed)}, {json.dumps(OF)}, {json.dumps(data)}, '2026-03-01'))"))

        texts = [*TO_COME, *NONE, *ANSWERS, *NO_NUMBER, *NUMBERS, *NO_REASON, *REASONS, "07", "000", "4711", "K.ALBERS", "WEISS NICHT", "weiß nicht", "Å B E N T"]
        assert [is_none(each) for each in texts] == [identifies_nothing(each) for each in texts]
