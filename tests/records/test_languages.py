"""A language that is added has its words in every place that holds some as data, not only in the words files."""

from generator.edge.commands import init
from generator.importing import likely
from generator.records import empty_sayings, empty_words, fitting, placeholders
from generator.records.depot import Language
from generator.rules.production import lot_numbers, lots_listed
from generator.writing import comments

# Where words of each language stand (DEVELOPERS.md, "a language"); what is English by itself has no line of its own in some.
PLACES = {
    "records/placeholders.py": placeholders.LANGUAGES,
    "records/empty_words.py": empty_words.LANGUAGES,
    "records/empty_sayings.py": empty_sayings.LANGUAGES,
    "records/fitting.py": {*fitting._SECTIONS_IN, Language.ENGLISH},
    "rules/production/lot_numbers.py": lot_numbers.LANGUAGES,
    "rules/production/lots_listed.py": lots_listed.LANGUAGES,
    "writing/comments.py": {*comments._ALL},
    "importing/likely.py": {*likely._SURE},
    "edge/commands/init.py": {*init._MEANT.values()},
}


def lacking(languages):
    return {place: left for place, held in PLACES.items() if (left := {str(each) for each in languages} - {str(each) for each in held})}


def test_each_language_has_its_words_in_every_place():
    assert lacking(Language) == {}


def test_a_new_language_is_named_in_each_place_that_lacks_it():
    assert lacking((*Language, "sv")) == {place: {"sv"} for place in PLACES}
