"""What a reader learns of other materials for a part that is not answered in the fire."""

import hashlib
import re
from typing import Any

import pytest
import yaml

from generator.planning import swaps
from tests.pages.conftest import HOSTILE
from tests.pages.test_fire import Depot, text

HEADING = "What else it could be made of"


@pytest.fixture
def depot(tmp_path) -> Depot:
    """The latch of plain plastic, whose oxygen index fails."""
    made = Depot(tmp_path / "catalogue")
    made.result(0, value=20)
    return made


def add_other(depot: Depot, **change: Any) -> None:
    """A material of 1.5 g/cm³ with papers of its own, all of which pass, printed by the same maker."""
    plain = depot.read("materials/plain.yml")
    told = {**plain, "name": "Other plastic", "density_g_cm3": 1.5, "proof": []} | {key: change.pop(key) for key in ("name", "certificates") if key in change}
    told["fire_tests"] = [_own_file(depot, each, "other-report") | change for each in plain["fire_tests"]]
    told["fire_tests"][0]["results"][0]["value"] = 31.2
    if "certificates" not in told or told["certificates"]:
        told["certificates"] = [_own_file(depot, each, "other-certificate") for each in plain["certificates"]]
    (depot.root / "materials/other.yml").write_text(yaml.safe_dump(told, allow_unicode=True), encoding="utf-8")
    makers = depot.read("makers.yml")["makers"]
    makers[0]["materials"].append("other")
    depot.edit("makers.yml", makers=makers)


def _own_file(depot: Depot, record: dict[str, Any], name: str) -> dict[str, Any]:
    """The same paper as another file."""
    content = name.encode()
    (depot.root / f"materials/documents/{name}.txt").write_bytes(content)
    return record | {"file": f"documents/{name}.txt", "sha256": hashlib.sha256(content).hexdigest()}


def told(depot: Depot) -> str:
    return text(depot.section().split(HEADING)[1].split("</details>")[0])


def test_an_answered_part_tells_nothing_and_nothing_is_looked_for(depot, monkeypatch):
    depot.result(0, value=31.2)
    monkeypatch.setattr(swaps, "unanswered", lambda *_: pytest.fail("looked for"))
    assert HEADING not in depot.section()


def test_none_is_told_as_none_with_the_places(depot):
    assert told(depot).startswith("Not answered as it is: F1 Cab. ")
    assert "Nothing else that a maker of this catalogue prints would pass or only ask." in told(depot)


def test_what_would_pass_is_told_with_all_that_changes(depot):
    """8 cm³: 8 g and 12 g; 2 + 0.5 × 8 = 6 and 2 + 0.5 × 12 = 8."""
    add_other(depot)
    assert told(depot).split("What changes ")[1] == (
        "Other plastic Bench would pass Mass: 8 g → 12 g (4 g more) Price of one: 6.00 EUR → 8.00 EUR (2.00 EUR more) "
        "Process: material extrusion, as now Heat deflection: not known → not known Stiffness: not known → not known"
    )
    assert re.search(r'href="\.\./materials/other\.html"', depot.section().split(HEADING)[1])


def test_what_would_ask_says_why(depot):
    add_other(depot, colour="red")
    assert "Other plastic Bench would ask another colour, or nobody has said which Mass" in told(depot)


def test_without_a_certificate_nothing_passes(depot):
    add_other(depot, certificates=[])
    assert "would pass" not in told(depot)
    assert "certificate missing no certificate of it counts" in told(depot)


def test_a_report_that_has_ended_is_no_answer(depot):
    depot.result(0, value=31.2)
    depot.report(valid_until="2026-11-24")
    assert HEADING in depot.section()
    depot.report(valid_until="2026-11-25")
    assert HEADING not in depot.section()


def test_hostile_names_stay_words(depot):
    add_other(depot, name=HOSTILE)
    assert "<script>" not in depot.section()
