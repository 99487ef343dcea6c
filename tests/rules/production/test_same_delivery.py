"""A lot of the supplier that is stopped here comes in under a second number: do its pieces ask until quality has said that it is not concerned?"""

from datetime import date

import pytest

from generator.records.lots import Blocked, Lot, Unblocked
from generator.rules.production.doubts import doubts_of
from generator.rules.production.same_delivery import (
    alike_numbers,
    asking_beside,
    asks_after_end,
    delivery_problems,
    same_beside,
    stopped_alike,
    stopped_elsewhere,
)
from tests.fixtures.production import batch, depot, recall
from tests.fixtures.told import fix, says

STOPPED = {"lot stopped elsewhere", "lot nearly stopped elsewhere"}
CALL = {"RC-0001": recall("2026-10-12", lot="L-1")}
BLOCK = Blocked(what="blocked", on=date(2026, 10, 12), by="fitter", why="brittle")


def end(on, why="tested, none of RC-0001 or L-1"):
    return Unblocked(what="unblocked", on=date.fromisoformat(on), by="keeper", why=why)


def called_too(lifted, why, began="cracks?"):
    """A recall of the second number by itself, lifted with these words."""
    found = recall("2026-10-12", lifted, lot="L-2")
    return found.model_copy(update={"events": tuple(each.model_copy(update={"why": said}) for each, said in zip(found.events, (began, why), strict=True))})


def lots(number="S1", *events, material="petg", first=()):
    return {"L-1": Lot(material="petg", supplier_lot="S1", events=first), "L-2": Lot(material=material, supplier_lot=number, events=events)}


def said(of, recalls):
    """What is asked of a batch of the second number, and what check tells of that."""
    catalogue = depot(batches={"B-1": batch().model_copy(update={"lots": ("L-2",)})}, recalls=recalls, lots=of)
    asked = not STOPPED.isdisjoint(doubts_of("B-1", catalogue.production.batches["B-1"], catalogue))
    return asked, [each.key for each in delivery_problems("L-2", catalogue.production)]


@pytest.mark.parametrize(
    ("of", "recalls", "asks", "told"),
    [
        (lots(), {}, False, []),
        (lots(), CALL, True, ["same delivery"]),
        (lots(" s1 "), CALL, True, ["same delivery"]),
        (lots(first=(BLOCK,)), {}, True, ["same delivery"]),
        (lots(first=(BLOCK, end("2026-10-20"))), {}, False, []),
        (lots(), {"RC-0001": recall("2026-10-12", "2026-10-20", lot="L-1")}, False, []),
        (lots(material="pa12"), CALL, False, []),
        (lots("S2"), CALL, False, []),
        (lots("Lot S1"), CALL, True, ["near"]),
        (lots("S1-B"), CALL, True, ["near"]),
        (lots("PETG S1"), CALL, True, ["near"]),
        (lots("Lot S1", material="pa12"), CALL, False, []),
        (lots("Lot S1", BLOCK, end("2026-10-13")), CALL, False, []),  # quality has let it go
        (lots("Lot S1", BLOCK, end("2026-10-12")), CALL, True, ["near"]),
        (lots("Lot S1", end("2026-10-13", "n/a")), CALL, True, ["near"]),
        (lots("Lot S1", first=(BLOCK, end("2026-10-20"))), {}, False, []),
        (lots("S1", BLOCK, end("2026-10-13")), CALL, False, []),  # quality has let it go
        (lots("S1", BLOCK, end("2026-10-12")), CALL, True, ["same delivery"]),  # of that day nobody knows which was first
        (lots("S1", BLOCK, end("2026-10-13")), {"RC-0001": recall("2026-11-12", lot="L-1")}, True, ["same delivery"]),  # it was said before
        (lots("S1", end("2026-10-13", "n/a")), CALL, True, ["same delivery"]),  # which says nothing
        (lots("S1", BLOCK), CALL, False, []),  # it is stopped itself
        (lots(), {**CALL, "RC-0002": called_too("2026-10-20", "not of L-1")}, False, []),
        (lots(), {**CALL, "RC-0002": recall("2026-10-13", "2026-10-20", lot="L-2")}, True, ["same delivery"]),  # which names nothing
        # It was called back a second time since quality said that this delivery is not concerned, or was not yet asked again.
        (lots("S1", BLOCK, end("2026-10-20")), {**CALL, "RC-0002": recall("2026-11-12", lot="L-1")}, True, ["same delivery"]),
        (lots("S1", BLOCK, end("2026-11-13")), {**CALL, "RC-0002": recall("2026-11-12", lot="L-1")}, False, []),
    ],
)
def test_more_of_a_stopped_lot_asks_until_quality_has_said(of, recalls, asks, told):
    assert said(of, recalls) == (asks, told)


@pytest.mark.parametrize("own", ["K 130", "K130 Rolle 2", "K 130-B"])
@pytest.mark.parametrize(
    ("began", "ended", "is_free"),
    [
        ("bag was open over night", "dried again 8 h", False),
        ("bag was open over night", "tested anew, report 12", False),
        ("bag of L-2 was open", "L-2 dried", False),  # the lot itself
        ("recall?", "it is not concerned", False),  # by what?
        ("see RC-00011", "not RC-00011", False),
        ("see RC-0002 and L-11", "neither L-1-2 nor XL-1 nor L-10", False),
        ("see RC-0001", "another lot, by its certificate", True),
        ("wet", "dried; of rc-0001: not concerned.", True),
        ("wet", "(RC-0001) tested", True),
        ("wet", "no spool of L-1/L-3", True),
        ("wet", "compared with l-1: another", True),
    ],
)
def test_only_words_about_that_stop_let_it_go(own, began, ended, is_free):
    """A block and its end for another reason, too, are no word about a recall."""
    block = BLOCK.model_copy(update={"why": began})
    of = lots(own, block, end("2026-10-13", ended))
    of["L-1"] = of["L-1"].model_copy(update={"supplier_lot": "K 130"})
    assert said(of, CALL)[0] is not is_free
    assert said({**of, "L-2": of["L-2"].model_copy(update={"events": ()})}, {**CALL, "RC-0009": called_too("2026-10-13", ended, began)})[0] is not is_free


@pytest.mark.parametrize(
    ("own", "called", "ended", "is_free"),
    [
        ("3388-B", "3388", "is none of 3388, by its paper", True),
        ("K130 Rolle 2", "K 130", "not of K 130", True),
        ("3388-B", "3388", "3388-B dried 8 h", False),  # its own number
        ("K 130", "k 130", "K 130 dried", False),
        ("Lot 8", "8", "dried again 8 h", False),  # too short to be one
        ("3388-B", "3388", "report 23388, 3388.1", False),
    ],
)
def test_the_other_number_of_the_supplier_names_it_too(own, called, ended, is_free):
    of = lots(own, BLOCK.model_copy(update={"why": "wet"}), end("2026-10-13", ended))
    of["L-1"] = of["L-1"].model_copy(update={"supplier_lot": called})
    assert said(of, CALL)[0] is not is_free


def test_two_that_are_stopped_are_let_go_one_by_one():
    of = lots("Lot S1", BLOCK, end("2026-10-13", "not of L-1"))
    of["L-3"] = Lot(material="petg", supplier_lot="S1", events=(BLOCK.model_copy(update={"why": "wet"}),))
    asked = stopped_elsewhere("L-2", depot(recalls=CALL, lots=of).production)
    assert [each.name for each in asked] == ["L-3"]


def test_whoever_ends_a_block_for_another_reason_learns_what_asks_on():
    production = depot(recalls=CALL, lots=lots("Lot S1", BLOCK)).production
    assert stopped_elsewhere("L-2", production) == ()  # stopped itself
    assert [each.name for each in asks_after_end("L-2", production, end=end("2026-10-14", "dried"))] == ["L-1"]
    assert asks_after_end("L-2", production, end=end("2026-10-14", "dried, and none of RC-0001")) == ()


@pytest.mark.parametrize(
    ("number", "called", "events", "told"),
    [
        ("K 130", "k130", (), ["other material"]),
        ("3388", "3388", (), ["other material"]),
        ("3388", "Lot 3388", (), []),  # the very same number only
        ("12", "12", (), []),
        ("Rest", "rest", (), []),
        ("3388", "3388", (BLOCK,), []),  # stopped itself
        ("3388", "3388", (BLOCK, end("2026-10-13")), []),
        ("3388", "3388", (BLOCK, end("2026-10-13", "wet, dried")), ["other material"]),
    ],
)
def test_the_very_number_under_another_material_is_told_and_nothing_asks(number, called, events, told):
    of = lots(number, *events, material="pa12")
    of["L-1"] = of["L-1"].model_copy(update={"supplier_lot": called})
    assert said(of, CALL) == (False, told)
    production = depot(recalls=CALL, lots=of).production
    assert [name for name, _ in same_beside("L-1", production)] == ["L-2"] * len(told)
    assert same_beside("L-2", production) == ()
    assert said(of, {}) == (False, [])


def test_what_comes_in_is_held_against_what_is_stopped():
    production = depot(recalls=CALL, lots=lots("S9")).production
    assert [(each.name, each.is_near) for each in stopped_alike(Lot(material="petg", supplier_lot="s1"), production)] == [("L-1", False)]
    assert [(each.name, each.is_near) for each in stopped_alike(Lot(material="petg", supplier_lot="No. S-1"), production)] == [("L-1", True)]
    assert stopped_alike(Lot(material="petg", supplier_lot="S10"), production) == ()


def test_which_numbers_are_alike_is_told_from_both_sides():
    """Otherwise nobody knows which spool to look at."""
    for number, sign in (("s1", "="), ("Lot S1", "≈")):
        production = depot(recalls=CALL, lots=lots(number)).production
        told = (f"{number} (L-2) {sign} S1 (L-1)",)
        assert alike_numbers(batch().model_copy(update={"lots": ("L-2", "L-2")}), production) == told
        assert asking_beside("L-1", production) == (("L-2", told),)
        assert asking_beside("L-2", production) == ()


def test_a_supplier_with_a_figure_in_its_name_hides_no_number():
    of = lots("3D Nord 77")
    of["L-1"] = of["L-1"].model_copy(update={"supplier_lot": "77"})
    assert said(of, CALL) == (False, [])
    of["L-2"] = of["L-2"].model_copy(update={"supplier": "3D Nord"})
    assert said(of, CALL) == (True, ["near"])


def test_a_word_about_a_third_lot_lets_nothing_go():
    of = {**lots(), "L-3": Lot(material="petg", supplier_lot="S7")}
    assert said(of, {**CALL, "RC-0002": recall("2026-10-13", "2026-10-20", lot="L-3")}) == (True, ["same delivery"])
    assert said(of, {**CALL, "RC-0002": recall("2026-10-13", "2026-10-20", part="EX-0001", revision="A")}) == (True, ["same delivery"])


def test_whoever_reads_the_warning_knows_which_lots_why_and_what_to_do():
    (told,) = delivery_problems("L-2", depot(recalls=CALL, lots=lots()).production)
    assert (told.code, told.path) == ("LOT04", ("supplier_lot",))  # where the number stands that is the same
    assert says(told) == "is more of the supplier's lot of L-1, which is stopped by RC-0001 (cracks); its pieces ask"
    assert "spares lot block L-2" in fix(told)
    assert "naming L-1 or RC-0001" in fix(told)
    blocked = Blocked(what="blocked", on=date(2026, 10, 12), by="fitter", why="It was wet.")
    (told,) = delivery_problems("L-2", depot(lots=lots("S1-B", first=(blocked,))).production)
    assert says(told) == "has nearly the supplier's number of L-1, which is stopped (It was wet); its pieces ask"
    assert "spares lot block L-2" in fix(told)
