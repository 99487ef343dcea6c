"""A reminder that was sent is written down, changes nothing of the part, and is for who has it alone."""

import pytest

from generator.edge.refusals import Ending

CLIP = "EX-0003"


def test_a_reminder_is_an_event_that_changes_nothing(depot, spares):
    spares("record", CLIP, "sent for customer acceptance", "--by", "specialist")
    before = spares("explain", CLIP)[1]
    code, out, err = spares("record", CLIP, "reminder sent", "--by", "specialist", "--minutes", "5", "--reference", "mail 7")
    assert (code, err) == (Ending.CLEAN, ""), out
    assert spares("explain", CLIP)[1] == before
    assert spares("check", CLIP)[0] == Ending.CLEAN


def test_while_it_lies_with_nobody_else_there_is_nobody_to_remind(depot, spares):
    code, _, err = spares("record", CLIP, "reminder sent", "--by", "specialist")
    assert code == Ending.PROBLEMS
    assert "nothing of EX-0003 that lies with somebody else" in err


@pytest.mark.parametrize("by", ["keeper", "reviewer"])
def test_who_has_it_cannot_put_off_the_own_reminder(depot, spares, by):
    spares("record", CLIP, "sent for customer acceptance", "--by", "specialist")
    code, _, err = spares("record", CLIP, "reminder sent", "--by", by)
    assert code == Ending.PROBLEMS
    assert f"{by} speaks for whoever has EX-0003" in err
    assert spares("record", CLIP, "reminder sent", "--by", "fitter")[0] == Ending.CLEAN


def test_who_sent_it_may_remind_though_the_own_role_speaks_for_the_customer_too(depot, spares):
    """In a small depot the specialist does."""
    file = depot / "catalogue/depot.yml"
    before = "name: Printed parts specialist\n"
    text = file.read_text("utf-8")
    assert before in text
    file.write_text(text.replace(before, before + "    acts_as: [customer]\n"), "utf-8")
    assert spares("record", CLIP, "reminder sent", "--by", "specialist")[0] == Ending.PROBLEMS
    spares("record", CLIP, "sent for customer acceptance", "--by", "specialist")
    assert spares("record", CLIP, "reminder sent", "--by", "specialist")[0] == Ending.CLEAN


def test_a_reminder_bears_no_papers(depot, spares):
    spares("record", CLIP, "sent for customer acceptance", "--by", "specialist")
    (depot / "mail.txt").write_text("How far is it?", encoding="utf-8")
    code, _, err = spares("record", CLIP, "reminder sent", "--by", "specialist", "--evidence", str(depot / "mail.txt"))
    assert code != Ending.CLEAN
    assert err
    assert not list(depot.rglob("documents/mail.txt"))


def test_one_role_reminds_once_a_day(depot, spares):
    """Else a command that is typed twice counts its minutes twice."""
    spares("record", CLIP, "sent for customer acceptance", "--by", "specialist")
    assert spares("record", CLIP, "reminder sent", "--by", "specialist", "--minutes", "5", "--reference", "mail 7")[0] == Ending.CLEAN
    record = next(depot.glob("catalogue/parts/EX-0003*/approval.yml"))
    before = record.read_bytes()
    code, _, err = spares("record", CLIP, "reminder sent", "--by", "specialist", "--minutes", "10")
    assert code == Ending.PROBLEMS
    assert "specialist reminded of EX-0003 on 25 Nov 2026, which stands there already, with 5 minutes, as mail 7" in err
    assert record.read_bytes() == before
    assert spares("record", CLIP, "reminder sent", "--by", "fitter", "--minutes", "10")[0] == Ending.CLEAN
