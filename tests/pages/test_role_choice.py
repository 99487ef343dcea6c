"""Who most likely fills in a form comes first, and what positions are called is told from the lines before."""

from types import SimpleNamespace

from generator.pages.fitting_form.page import fitted_form_data
from generator.pages.role_choice import role_choices
from generator.pages.wording import wording
from generator.records.depot import ActsAs
from generator.rules.production.positions import MOST, Positions, positions
from tests.planning.holding.histories import batch, line, produced


def depot(*ids):
    """Those with a * decide something."""
    return SimpleNamespace(roles=[SimpleNamespace(id=each.strip("*"), name=each, acts_as=(ActsAs.QUALITY,) if "*" in each else ()) for each in ids])


def first(made):
    return [each["id"] for each in made if each["first"]]


def test_those_who_did_so_before_come_first_then_those_of_their_kind():
    roles = depot("quality*", "foreman", "fitter-body", "fitter-doors", "stores", "fitter-gear")
    made = role_choices(roles, {"fitter-doors": 2, "foreman": 1, "gone": 9})
    assert first(made) == ["fitter-doors", "foreman", "fitter-body", "fitter-gear"]
    assert [each["id"] for each in made] == ["fitter-doors", "foreman", "fitter-body", "fitter-gear", "quality", "stores"]


def test_where_nobody_has_those_come_first_who_decide_nothing():
    assert first(role_choices(depot("quality*", "foreman", "fitter"), {})) == ["foreman", "fitter"]
    assert first(role_choices(depot("quality*"), {})) == ["quality"]
    assert first(role_choices(depot(*(f"r{at}" for at in range(9))), {})) == [f"r{at}" for at in range(6)]
    assert role_choices(None, {"fitter": 1}) == []


def test_positions_are_called_as_the_lines_before_call_them():
    made = produced(
        line(300, on="B-1", vehicle="1", position="Window 3"), line(290, on="B-1", vehicle="2", position="window  3"),
        line(280, off="B-1", vehicle="2", position="window 10", why="worn"), line(270, on="B-1", vehicle="3"), line(200, on="B-9", position="roof"),
        B_1=batch(part="P-0001"),
    )  # fmt: skip
    (found,) = positions(made)["P-0001"].values()
    assert found == Positions(("window  3", "window 10"), one_each=True)
    assert positions(produced(*(line(200, on="B-1", position=f"a sentence {at}") for at in range(MOST + 50)), B_1=batch(part="P-0001")))["P-0001"].popitem()[1].names[0] == "a sentence 0"


def test_a_place_where_two_went_on_together_proposes_no_single_piece():
    made = produced(line(300, on="B-1", count=2, position="door"), B_1=batch(part="P-0001"))
    assert not next(iter(positions(made)["P-0001"].values())).one_each


def test_the_reasons_on_the_tablet_are_those_of_report_and_trace():
    w = wording("en")
    around = SimpleNamespace(catalogue=SimpleNamespace(depot=None, production=produced(), fleets={}), sheets={}, w=w)
    assert '"campaign":"' + w.term("off_why", "campaign") + '"' in str(fitted_form_data(around).content).replace('": "', '":"')
