"""`spares approvals` as the specialist runs it."""

import json


def test_it_lists_what_is_on_its_way_and_what_lapses(depot, spares):
    code, said, _ = spares("approvals", "--on", "2027-04-02")
    assert code == 0
    assert "EX-0003" in said
    assert "89 days" in said, "the approval of EX-0001 ends on 30 June 2027"
    assert "EX-0002" not in said, "approved, and nothing lapses soon"


def test_all_lists_the_settled_ones_too(depot, spares):
    assert "EX-0002" in spares("approvals", "--all")[1]


def test_json_is_for_machines(depot, spares):
    _, said, _ = spares("approvals", "--all", "--format", "json")
    told = {row["number"]: row for row in json.loads(said)}
    assert told["EX-0001"]["stage"] == "approved"
    assert told["EX-0001"]["forecast"] is None
    assert told["EX-0003"]["forecast"]["early"] <= told["EX-0003"]["forecast"]["median"]
    assert told["EX-0003"]["waited_days"] == 85
