"""`spares next`: the following step of a part, with its command."""

from pathlib import Path

from generator.edge.refusals import Ending


def test_a_part_on_its_way_is_told_its_next_step(depot, spares):
    code, out, err = spares("next", "ex-0003")
    assert (code, err) == (0, "")
    assert out.startswith("EX-0003 Hose clip, 25 Nov 2026\nprototype (customer), for 85 days. Whose move:")
    assert '\n      spares record EX-0003 "sent for customer acceptance" --by ROLE --reference TEXT\n' in out


def test_the_command_of_an_approval_names_all_that_the_part_fits(depot, spares):
    for event in ("customer acceptance given", "documents complete", "sent to technical review"):
        assert spares("record", "EX-0003", event, "--by", "keeper", "--on", "2026-11-02")[0] == 0
    assert "spares approve EX-0003 --by ROLE --reference TEXT --scope B2:21-22:bogie --until" in spares("next", "EX-0003")[1]


def test_the_customers_two_answers_are_two_commands(depot, spares):
    spares("record", "EX-0003", "sent for customer acceptance", "--by", "specialist", "--on", "2026-11-02")
    assert 'spares record EX-0003 "customer acceptance given"' in spares("next", "EX-0003")[1]


AS_KEEPER, AS_MAKER = (("--by", who, "--on", "2026-11-02") for who in ("keeper", "specialist"))


def test_what_is_recorded_without_its_papers_says_what_is_missing_and_next_goes_on_saying_it(depot, spares):
    code, out, _ = spares("record", "EX-0003", "customer acceptance given", *AS_KEEPER)
    assert (code, "✕ the customer's letter or minutes on the acceptance" in out, "a drawing" in out) == (0, True, False)
    for event in ("documents complete", "sent to technical review"):
        code, out, _ = spares("record", "EX-0003", event, *AS_MAKER)
        assert (code, "✕ a drawing in documents/" in out, "✕ the customer's letter" in out) == (0, True, True), event
        told = spares("next", "EX-0003")[1]
        assert "✕ a drawing in documents/" in told
        assert 'spares record EX-0003 "customer acceptance given" --by ROLE --reference TEXT --evidence FILE' in told
    Path("minutes.txt").write_text("tried and liked", "utf-8")
    code, out, _ = spares("record", "EX-0003", "customer acceptance given", "--by", "keeper", "--evidence", "minutes.txt")
    assert (code, "✕" in out) == (0, False)
    told = spares("next", "EX-0003")[1]
    assert ("✕ the customer's letter" in told, "✕ a drawing" in told, "technical review" in told) == (False, True, True)


def test_a_step_that_needs_no_paper_warns_of_none(depot, spares):
    assert "✕" not in spares("record", "EX-0003", "sent for customer acceptance", *AS_MAKER)[1]


def test_what_may_be_fitted_has_nothing_to_do(depot, spares):
    assert "\nNothing to do\n" in spares("next", "EX-0001")[1]


def test_what_is_approved_yet_not_to_be_fitted_is_told_first(depot, spares):
    _, out, _ = spares("next", "EX-0001", "--on", "2027-07-01")
    assert "\nApproved, yet not to be fitted\n  A1 11–14 · Driver's cab: Do not fit\n" in out
    assert "Nothing to do" not in out


def test_mistakes_are_told_with_their_place(depot, spares):
    part = Path("catalogue/parts/EX-0001-lid-knob/part.yml")
    part.write_text(part.read_text().replace("name: Lid knob", "name: [Lid]"))
    _, out, _ = spares("next", "EX-0001")
    assert "part.yml:3:7: error REC03" in out
    assert "\n      spares check\n" in out


def test_an_unknown_number_is_a_misuse(depot, spares):
    assert spares("next", "EX-0099")[0] == Ending.MISUSE
