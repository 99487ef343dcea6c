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


def test_what_is_approved_yet_not_to_be_fitted_comes_first_with_its_command(depot, spares):
    """On 1 July 2027 the approval of EX-0001 is over."""
    _, said, _ = spares("approvals", "--on", "2027-07-01")
    lines = said.splitlines()
    assert lines[:3] == ["Approved, yet not to be fitted", "EX-0001 Lid knob", "  A1 11–14 · Driver's cab: Do not fit"]
    assert lines[3] == "  ✕ Ended: the last day was 30 Jun 2027"
    assert lines[5].split()[:6] == ["spares", "record", "EX-0001", "renewed", "--approved-on", "2026-01-15"]
    assert "EX-0001" not in "".join(line for line in lines if "(customer)" in line and "lapsed" not in line)


def test_where_all_that_is_approved_may_be_fitted_it_says_so(depot, spares):
    assert spares("approvals")[1].startswith("Nothing approved stands still.\n")


def test_machines_read_what_is_missing_too(depot, spares):
    told = {row["number"]: row for row in json.loads(spares("approvals", "--on", "2027-07-01", "--format", "json")[1])}
    assert [each["missing"] for each in told["EX-0001"]["unfit"]] == ["Ended: the last day was 30 Jun 2027"]


def test_of_a_record_that_cannot_be_read_nobody_tells_stage_or_route(depot, spares):
    """A guess told as a fact sent the part to the wrong desk."""
    record = depot / "catalogue/parts/EX-0003-hose-clip/approval.yml"
    record.write_text("route: [broken\n", "utf-8")
    told = {row["number"]: row for row in json.loads(spares("approvals", "--all", "--format", "json")[1])}["EX-0003"]
    assert (told["route"], told["stage"], told["since"], told["missing"]) == (None, "cannot be read", None, ["the record's mistakes mended"])
    assert "design" not in spares("explain", "EX-0003")[1]
    code, _, err = spares("submission", "EX-0003")
    assert (code, "EX-0003-hose-clip/approval.yml cannot be read" in err) == (1, True)
