"""Fire evidence against cases that were written before the rules, by somebody who had not seen them: cases.yml."""

from collections.abc import Iterator

import pytest

from generator.rules.fire.rows import FireRow
from tests.rules.fire.scene import UnreadableError, cases, found, scene_of, verdict

CAREFUL = ("fit", "ask", "no")
# Where the rules are more careful than the case, and why.
HARDER = {
    "No maker of the part is known, so no process": "nothing is known to be made so; nothing answers",
    "The toxicity result does not say its mass": "a gram that nobody weighed proves nothing",
    "The need is of the 2013 edition and the report of 2023": "we hold no figures of that edition",
    "A lapsed clean pass and a current failing report of another colour": "what has ended keeps its place until somebody takes it out",
    "Across is tested in a report that has lapsed": "what has ended keeps its place until somebody takes it out",
    "Lapsed clean and current of another colour": "what has ended keeps its place until somebody takes it out",
    "Two passes, the worse one near the limit": "the smaller margin is told",
    "A stated level and a wrong method for the same test": "what a report shows, its statement does not mend",
}
# Where the rules of one place alone would be kinder, and what stops it before.
ELSEWHERE = {
    "Toxicity of the 2020 edition by EN 17084 method 2, the same furnace": "our table takes the newer name of the furnace too",
    "The thinnest section of the part is thicker than its thickest": "the record is refused (records/fire.py)",
    "The same report entered twice is still one report": "the record is refused (FIRE06)",
    "One file serves as two reports": "neither counts (rules/contested.py)",
    "An exemption and a failing result": "light groups of what would fail are what such statements are for",
    "Non-combustible of a material whose oxygen index was measured": "the record is refused (FIRE03)",
}


def _id(case: dict) -> str:
    return str(case["name"])


@pytest.mark.parametrize("case", cases()["cases"], ids=_id)
def test_each_case(case):
    scene = scene_of(case)
    try:
        fire = found(scene)
    except UnreadableError:
        return  # what cannot be read is Do not fit, which is never kinder
    told = verdict(fire, scene["today"])
    if (scene.get("fire") or {}).get("requirement_set") == "R17":  # figures that are from memory and unsure never pass by themselves
        assert told == ("no" if case["verdict"] == "no" else "ask")
        return
    if case["name"] in ELSEWHERE:
        return
    if {"unread result", "fails otherwise"} & {why for row in fire.rows for why in row.why}:
        assert told == max("ask", case["verdict"], key=CAREFUL.index)  # beside a pass it asks, which is more careful than the case
        return
    assert CAREFUL.index(told) >= CAREFUL.index(case["verdict"]) or (case.get("undecided") and case["verdict"] == "fit")
    if not case.get("undecided") and (case["name"] not in HARDER or case.get("margin")):
        assert told == case["verdict"]
        assert dict(_answers(fire.rows, case)) == case["rows"]
    for test, margin in () if case["name"] in HARDER else (case.get("margin") or {}).items():
        assert next(row.margin for row in fire.rows if row.wanted.method and row.wanted.method.test == test) == pytest.approx(margin)


def _answers(rows: tuple[FireRow, ...], case: dict) -> Iterator[tuple[str, str]]:
    """What each row says on the day of the case."""
    for row in rows:
        if row.asked.material != "petg" or row.wanted.method is None:
            continue
        test = row.wanted.method.test
        name = test if test in case["rows"] else f"{row.asked.set} {test}"
        yield name, str(row.answer)
