"""The pages of parts whose models took too much: measures stand, what is missing is said, and nothing may be fitted."""

from generator.geometry.measured import LeftOut, Worked
from generator.pages.site import site
from generator.rules.facts.case import Copy
from generator.rules.sheet import sheet
from generator.rules.verdicts import Verdict
from tests.pages.sample import DAY, WORKED, judged_sample

WHY = LeftOut(products=("walls", "pictures"), why="took too long", facts=(("seconds", 30.0),))
BARE = Worked(facts=WORKED.facts, source=WORKED.source, pictures=None, left_out=(WHY,))
SAYS = "making a part of this took longer than 30 s and was stopped; left out: the thickness of its walls, its pictures"


def _bare():
    catalogue, sheets, problems = judged_sample()
    copy = Copy(DAY, 30)
    return catalogue, tuple(sheet(each.folder, BARE if each.folder.mesh else None, catalogue, copy) for each in sheets), problems


def test_what_is_missing_is_said_and_the_part_is_not_fitted():
    catalogue, sheets, problems = _bare()
    pages = {each.path: each.text for each in site(catalogue, sheets, problems, DAY, lambda *_: ()).pages}
    modelled = [each for each in sheets if each.folder.mesh]
    assert modelled
    for each in modelled:
        assert each.best is Verdict.DO_NOT_FIT
        assert each.mesh == WORKED.facts
        assert SAYS in pages[f"parts/{each.number}.md"]
