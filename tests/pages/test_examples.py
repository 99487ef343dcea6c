"""The finder's examples are of the depot itself; one without parts has none of anybody else's."""

from generator.pages.finder.examples import own_words
from generator.pages.wording import wording
from tests.fixtures.tiny import DEPOT, sheets

WORDS = wording("en")


def test_the_shortest_name_of_the_depot_and_its_number_come_first():
    found = sheets(DEPOT)[0]
    name, number, *general = own_words(found, WORDS)["examples"]
    least = min((len(each.name), each.number) for each in found)[1]
    assert number == least
    part = next(each for each in found if each.number == least)
    assert name == f"{part.name} {part.part.fits[0].fleet}"
    assert general == WORDS.flat["finder.examples"][:2]


def test_without_a_part_the_finder_says_so():
    assert own_words((), WORDS) == {"none": "There is no part in this catalogue yet."}
