"""Numbers and days that cannot be: `spares check` tells each, and nothing that holds one says Fit it."""

import re

import pytest

from tests.attacks import wrong_word_depot as depot
from tests.attacks.wrong_word_depot import PART, event, way

SIZE = (20, 30, 5)


def fire(**values):
    return {"fire": PART["fire"] | values}


def settings(**values):
    return {"settings": PART["settings"] | values}


def check(nominal, plus=0.1, minus=0.0):
    return {"checks": [{"name": "Bore", "nominal_mm": nominal, "plus_mm": plus, "minus_mm": minus}]}


PARTS = {
    "a wall thicker than the thinnest side of the part": fire(thinnest_wall_mm=6),
    "a wall thicker than the whole part": fire(thinnest_wall_mm=80),
    "printed walls thicker than the thinnest side of the part": settings(wall_mm=6),
    "a layer thicker than the whole part": settings(layer_mm=80),
    "a check larger than the part": check(500),
    "a check a little larger than the part from corner to corner": check(38),
    "a check that may be smaller than nothing": check(6, minus=7),
    "a check whose tolerance is larger than the part": check(6, plus=400),
}
# the right ones beside them: what is unusual, but can be
FINE = {
    "a wall as thick as the part": fire(thinnest_wall_mm=5),
    "a check over the whole length": check(30),
    "a check from corner to corner": check(36),
}
OLD, FAR = "1985-06-01", "2106-12-31"


def walked(on):
    """The way in one day."""
    return [step | {"on": on} for step in way()]


def told_of(base, name, write, cases):
    """What one `spares check` says of each case, all of them side by side in one catalogue.

    They have one model, which is measured once, and name each other as look-alikes, which allows that."""
    catalogue = depot.copy_of_the_depot(depot.new_folder(base, name))
    numbers = {case: f"EX-{1000 + index}" for index, case in enumerate(cases)}
    for case, number in numbers.items():
        others = sorted({*numbers.values()} - {number})
        write(catalogue, case, {"number": number, "mesh": depot.box(*SIZE), "look_alikes": others})
    found = depot.problems(catalogue)
    return {case: [one for one in found if f"{number}-knob" in one] for case, number in numbers.items()}


def of_each(work, cases):
    return {case: work(case) for case in cases}


@pytest.fixture(scope="module")
def asked(base):
    cases = PARTS | FINE

    def write(catalogue, case, record):
        depot.write_part(catalogue, **record, **cases[case])
        depot.write_events(catalogue, way(), record["number"])

    def fitted(case):
        catalogue = depot.copy_of_the_depot(base / f"part {list(cases).index(case)}")
        write(catalogue, case, {"number": depot.NUMBER, "mesh": depot.box(*SIZE)})
        # may be refused, now that the record cannot be: then no approval stands, and that is well
        depot.approve(catalogue, "--despite-warnings")
        return depot.Words(catalogue).fitted()

    told = told_of(base, "parts", write, cases)
    words = of_each(fitted, cases)
    return {case: (told[case], words[case]) for case in cases}


@pytest.mark.parametrize("case", PARTS)
def test_a_number_that_cannot_be_is_told_and_nothing_is_fitted(asked, case):
    told, fitted = asked[case]
    assert (bool(told), fitted) == (True, set())


@pytest.mark.parametrize("case", FINE)
def test_a_number_that_can_be_is_not_told(asked, case):  # holds already
    told, fitted = asked[case]
    assert told == []
    assert fitted


# Days


def days(permit):
    """Histories with a day that cannot be, or an end that nobody can promise."""
    renewed = event("2026-06-01", "renewed", valid_until=FAR)
    trial = permit("A", "A1:11:cab", what="trial opened", until=FAR)
    return {
        USUAL: [*walked("1996-01-01"), permit(until="2031-12-31")],
        "approved before 1990": [*walked("1985-01-01"), permit(on=OLD)],
        "the whole way before 1990, approved since": [*walked(OLD), permit()],
        "one step before 1990": [way()[0] | {"on": "1970-01-01"}, *way()[1:], permit()],
        "a year with two figures turned": [*walked("0206-01-01"), permit()],
        "approved for 80 years": [*way(), permit(until=FAR)],
        "approved until the end of all days": [*way(), permit(until="9999-12-31")],
        "a trial of 80 years": [*way(), trial],
        "renewed for 80 years": [*way(), permit(), renewed],
        "a trial renewed for 80 years": [*way(), trial | {"valid_until": "2026-12-31"}, renewed],
    }


USUAL = "a day that can be"
DAYS = [
    "approved before 1990",
    "the whole way before 1990, approved since",
    "one step before 1990",
    "a year with two figures turned",
    "approved for 80 years",
    "approved until the end of all days",
    "a trial of 80 years",
    "renewed for 80 years",
    "a trial renewed for 80 years",
]


@pytest.fixture(scope="module")
def dated(base):
    histories = days(depot.Permits(base))

    def ask(case):
        catalogue = depot.copy_of_the_depot(base / f"days {list(histories).index(case)}")
        depot.write_part(catalogue)
        depot.write_events(catalogue, histories[case])
        words = depot.Words(catalogue)
        # explain lists mistakes as check does; ask check only where it lists none, as of a mere doubt
        return re.findall(r"approval\.yml.*error.*", words.text) or depot.told(catalogue), words.fitted()

    return of_each(ask, histories)


@pytest.mark.parametrize("case", DAYS)
def test_a_day_that_cannot_be_is_told_and_nothing_is_fitted(dated, case):
    told, fitted = dated[case]
    assert (bool(told), fitted) == (True, set())


def test_a_day_that_can_be_is_not_told(dated):  # holds already
    told, fitted = dated[USUAL]
    assert told == []
    assert fitted


def test_the_command_line_writes_no_approval_of_80_years_and_none_before_1990(history):
    catalogue = history.catalogue(walked("1985-01-01"))
    assert depot.approve(catalogue, on=OLD, until="2027-12-31").returncode == 1
    depot.write_events(catalogue, way())
    assert depot.approve(catalogue, until=FAR).returncode == 1
    assert len(depot.read_events(catalogue)) == len(way())


# Papers of the material

PAPERS = {
    "a certificate before 1990": ({"issued_on": OLD}, {}),
    "a certificate for 80 years": ({"valid_until": FAR}, {}),
    "a certificate not yet issued": ({"issued_on": "2027-02-03"}, {}),
    "a certificate that ends before it begins": (
        {"issued_on": "2025-02-03", "valid_until": "2024-02-03"},
        {},
    ),
    "a fire report before 1990": ({}, {"tested_on": OLD}),
    "a fire report for 80 years": ({}, {"valid_until": FAR}),
    "a fire report not yet made": ({}, {"tested_on": "2027-02-03"}),
    "a specimen of a ten-thousandth": ({}, {"thickness_mm": 0.0001}),
    "a specimen of a hundredth": ({}, {"thickness_mm": 0.01}),
}
EDGE = (
    {"issued_on": "2020-01-01", "valid_until": "2030-12-31"},
    {"tested_on": "2016-01-01", "valid_until": "2030-12-31", "thickness_mm": 0.8},
)


@pytest.fixture(scope="module")
def papers(base):
    cases = PAPERS | {USUAL: EDGE}
    beside = depot.copy_of_the_depot(depot.new_folder(base, "papers"))
    for index, case in enumerate(cases):
        depot.petg(beside, *cases[case], grade="one grade")
        (beside / "materials" / "petg.yml").rename(beside / "materials" / f"m{index}.yml")
    depot.petg(beside, grade="one grade")
    found = depot.problems(beside)

    def fitted(case):
        catalogue = depot.copy_of_the_depot(base / f"paper {list(cases).index(case)}")
        depot.write_part(catalogue)
        depot.write_events(catalogue, way())
        depot.petg(catalogue, *cases[case])
        depot.approve(catalogue, "--despite-warnings")  # may be refused: then nothing is fitted either
        return depot.Words(catalogue).fitted()

    words = of_each(fitted, cases)
    return {
        case: ([one for one in found if f"m{index}.yml" in one], words[case])
        for index, case in enumerate(cases)
    }


@pytest.mark.parametrize("case", PAPERS)
def test_a_paper_that_cannot_be_is_told_and_carries_nothing(papers, case):
    told, fitted = papers[case]
    assert (bool(told), fitted) == (True, set())


def test_papers_at_the_edge_of_the_usual_are_not_told(papers):  # holds already
    told, fitted = papers[USUAL]
    assert told == []
    assert fitted


@pytest.mark.parametrize(
    "values",
    [
        {"on": OLD, "valid_until": "2027-12-31"},
        {"on": "2026-01-10", "valid_until": FAR},
    ],
    ids=["before 1990", "for 80 years"],
)
def test_a_fire_engineers_statement_of_an_impossible_day_is_told_and_carries_nothing(history, values):
    catalogue = history.catalogue(way())
    paper = depot.kept(depot.folder_of(catalogue), "documents/statement.txt", "No test is asked.\n")
    depot.petg(catalogue, fire_tests=[])
    exemption = {"reference": "S-1", "by": "fire-engineer", "evidence": paper} | values
    depot.write_part(catalogue, **fire(exemption=exemption))
    depot.approve(catalogue, "--despite-warnings")
    told = depot.told(catalogue)
    assert told
    assert not any("is not a key" in problem for problem in told)
    assert depot.Words(catalogue).fitted() == set()


# The same model twice

LONE, PAIR, HALF, COPY = "EX-2001", "EX-2003", "EX-2005", "EX-2007"


def _after(number):
    return f"EX-{int(number[3:]) + 1}"


@pytest.fixture(scope="module")
def twins(base):
    """Pairs of parts with one model: unnamed, naming each other, one naming the other, and saved anew."""
    catalogue = depot.copy_of_the_depot(depot.new_folder(base, "twins"))
    named = {PAIR: [_after(PAIR)], _after(PAIR): [PAIR], HALF: [_after(HALF)]}
    for serial, first in enumerate((LONE, PAIR, HALF, COPY)):
        size = (21 + serial, 30, 8)
        for number, mesh in ((first, depot.box(*size)), (_after(first), depot.box(*size, name=_name(first)))):
            depot.write_part(catalogue, number=number, mesh=mesh, look_alikes=named.get(number, []))
            depot.write_events(catalogue, way(), number)
    judged = [LONE, PAIR, HALF, _after(HALF), COPY]
    for number in judged:
        depot.submit(catalogue, number, "2026-01-15")
    found = depot.problems(catalogue)

    def fitted(number):
        depot.approve(catalogue, "--despite-warnings", number=number)
        return depot.Words(catalogue, number).fitted()

    return found, of_each(fitted, judged)


def _name(first):
    return "saved-anew" if first == COPY else "box"  # other bytes, the same solid


@pytest.mark.parametrize("first", [LONE, HALF, COPY], ids=["unnamed", "one names the other", "saved anew"])
def test_one_model_in_two_parts_that_do_not_name_each_other_is_told_and_neither_is_fitted(twins, first):
    found, fitted = twins
    assert any(first in problem and _after(first) in problem for problem in found)
    assert fitted[first] == fitted.get(_after(first), set()) == set()


def test_one_model_in_two_parts_that_name_each_other_is_allowed(twins):  # holds already
    found, fitted = twins
    assert not [problem for problem in found if PAIR in problem or _after(PAIR) in problem]
    assert (11, "Driver's cab") in fitted[PAIR]
