"""Only roles that act as customer or authority may say what customers and authorities say."""

import re

import pytest

from generator.reading.catalogue import read_catalogue
from tests.fixtures.told import fix, says

KNOB = "parts/EX-0001-lid-knob"
LEVER = "parts/EX-0002-brake-lever"
CLIP = "parts/EX-0003-hose-clip"


def edited(depot, file, before, after):
    text = (depot / file).read_text(encoding="utf-8")
    assert before in text
    (depot / file).write_text(text.replace(before, after), encoding="utf-8")


def told(depot):
    """Errors of code APPR23: where, what and how to mend it."""
    catalogue = read_catalogue(depot)
    found = (*catalogue.problems, *(each for part in catalogue.parts for each in part.problems))
    return [(str(each.where), says(each), fix(each)) for each in found if each.code == "APPR23"]


def by(event, old, new):
    """The edit that lets `new` say what `old` said in the event."""
    return f"what: {event}\n    by: {old}\n", f"what: {event}\n    by: {new}\n"


@pytest.mark.parametrize(
    ("folder", "edit", "acts_as", "may"),
    [
        (KNOB, by("customer acceptance given", "keeper", "fitter"), "customer", "keeper, reviewer"),
        (KNOB, by("customer acceptance given", "keeper", "authority"), "customer", "keeper, reviewer"),
        (KNOB, by("approved", "reviewer", "authority"), "customer", "keeper, reviewer"),
        (LEVER, by("approved", "authority", "reviewer"), "authority", "authority"),
        (CLIP, by("trial opened", "keeper", "fire-engineer"), "customer or authority", None),
    ],
    ids=str,
)
def test_who_may_not_say_so_is_told_with_those_who_may(depot, folder, edit, acts_as, may):
    assert told(depot) == []
    edited(depot, f"{folder}/approval.yml", *edit)
    ((where, says, fix),) = told(depot)
    line = (depot / folder / "approval.yml").read_text(encoding="utf-8").split(edit[1])[0].count("\n") + 2
    assert where.startswith(f"{folder}/approval.yml:{line}:")
    assert says.endswith(f"a role that does not act as {acts_as}")
    assert fix == f"name a role that does: {may or 'keeper, reviewer, authority'}"


CARRIED = """\
    carries_over:
      steps: [prototype]
      why: A chamfer.
      by: {by}
      reference: R-8
      evidence:
        file: documents/acceptance.txt
        sha256: "{zeros}"
"""


@pytest.mark.parametrize(
    ("folder", "by", "may"),
    [
        (KNOB, "keeper", None),
        (KNOB, "reviewer", None),
        (KNOB, "authority", "keeper, reviewer"),
        (KNOB, "fire-engineer", "keeper, reviewer"),
        (LEVER, "authority", None),
        (LEVER, "reviewer", "authority"),
    ],
)
def test_only_who_may_approve_carries_a_step_over(depot, folder, by, may):
    """Not whoever may approve on another route; the approval itself may be in order."""
    record = depot / folder / "approval.yml"
    head, approved, end = record.read_text(encoding="utf-8").partition("what: approved\n")
    record.write_text(f"{head}{approved}{CARRIED.format(by=by, zeros='0' * 64)}{end}", encoding="utf-8")
    assert [fix for _, _, fix in told(depot)] == ([f"name a role that does: {may}"] if may else [])


@pytest.mark.parametrize(
    "lines",
    [
        "what: approval refused\n    reason: no",
        "what: renewed\n    valid_until: 2029-01-01",
        "what: condition lifted\n    condition: look at it",
        "what: customer acceptance refused\n    reason: no",
    ],
)
def test_decisions_on_an_approval_are_not_open_to_everybody(depot, lines):
    what = re.match("what: (.+)", lines)[1]
    with (depot / KNOB / "approval.yml").open("a", encoding="utf-8") as record:
        record.write(f"  - on: 2026-11-20\n    by: fitter\n    {lines}\n")
    ((_, says, _),) = told(depot)
    assert says == f"says '{what}' by 'fitter', a role that does not act as customer"


@pytest.mark.parametrize(
    "lines",
    [
        "what: condition added\n    condition: look at it",
        "what: withdrawn\n    reason: two broke",
        "what: superseded\n    superseded_by: EX-0003",
    ],
)
def test_everybody_may_make_it_more_careful(depot, lines):
    with (depot / KNOB / "approval.yml").open("a", encoding="utf-8") as record:
        record.write(f"  - on: 2026-11-20\n    by: fitter\n    {lines}\n")
    assert told(depot) == []


def test_only_a_fire_engineer_chooses_what_the_standard_asks(depot):
    edited(depot, f"{KNOB}/part.yml", "chosen_by: fire-engineer", "chosen_by: reviewer")
    ((where, says, fix),) = told(depot)
    assert where.startswith(f"{KNOB}/part.yml:")
    assert says == "chooses the requirement set by 'reviewer', a role that does not act as fire engineer"
    assert fix == "name a role that does: fire-engineer"


def test_only_a_fire_engineer_says_that_no_test_is_asked(depot):
    exemption = (
        "  exemption: {reference: F-1, by: keeper, on: 2026-01-01, evidence: {file: documents/x.pdf, sha256: "
        + "0" * 64
        + "}}\n"
    )
    edited(
        depot, f"{KNOB}/part.yml", "  chosen_by: fire-engineer\n", "  chosen_by: fire-engineer\n" + exemption
    )
    assert [says for _, says, _ in told(depot)] == [
        "says that no fire test is asked by 'keeper', a role that does not act as fire engineer"
    ]


@pytest.mark.parametrize(("who", "count"), [("keeper", 0), ("fire-engineer", 1), ("authority", 1)])
def test_who_may_waive_the_authority(depot, who, count):
    waiver = f"waiver: {{reason: like for like, by: {who}, reference: W-1}}\n"
    edited(depot, f"{KNOB}/approval.yml", "route: customer\n", "route: customer\n" + waiver)
    assert len(told(depot)) == count


def test_a_safety_manager_may_waive(depot):
    edited(
        depot,
        "depot.yml",
        "  - id: fitter\n    name: Fitter\n",
        "  - id: fitter\n    name: F\n    acts_as: [safety manager]\n",
    )
    edited(
        depot,
        f"{KNOB}/approval.yml",
        "route: customer\n",
        "route: customer\nwaiver: {reason: same, by: fitter, reference: W-1}\n",
    )
    assert told(depot) == []


def test_a_depot_whose_roles_act_for_nobody_is_told_where_to_say_so(depot):
    text = (depot / "depot.yml").read_text(encoding="utf-8")
    (depot / "depot.yml").write_text(re.sub(r" +acts_as: .*\n", "", text), encoding="utf-8")
    fixes = {says.split("'")[1]: fix for _, says, fix in told(depot) if says.startswith("says")}
    assert fixes["customer acceptance given"] == "give the role that does 'acts_as: [customer]' in depot.yml"
