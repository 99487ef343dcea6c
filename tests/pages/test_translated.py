"""Every language besides English is whole: each word is there, says something else than English does, and no page shows English."""

import re
from functools import cache

import pytest
import yaml

from generator.edge.site.by_language import standing_in
from generator.pages.finder.query_words import problems_of_query_words
from generator.pages.fire.of_standard import standard_words
from generator.pages.wording import problems_of_words, wording, words_files
from generator.rules.fire.candidates import PRODUCTS
from generator.rules.standards import HAZARD_LEVELS
from tests.pages.built import Built
from tests.pages.conftest import CONFIG
from tests.pages.test_no_english import INTERNATIONAL, STANDARDS, WORD, shown_words, words_of_records
from tests.pages.translated import LANGUAGES, SAME, any_of, phrases, site_in, texts

GUIDES = CONFIG.parent / "site_src" / "guide"
WORDS = re.compile(r"\b[^\W\d_]{2,}\b")  # in any alphabet; a sum in hexadecimal is no word
every_language = pytest.mark.parametrize("language", LANGUAGES)
# Fences, headings, links and HTML: what a translation keeps as it is.
FRAME = re.compile(r"(?m)^```[\s\S]*?^```|^#+ |\]\([^)]*\)|^<.*>$")
ANCHOR = re.compile(r"#[^)]*\)$")  # of a link: it is made of a heading
REASON = re.compile(r"(?<=--why )\"[^\"]*\"")  # what a person would say, in the language of the depot
REMARK = re.compile(r"(?m)(?<=\S)(?: +#|  +).*$")  # behind a line of a file: its comment


@every_language
def test_every_word_is_there_and_none_besides(language):
    """The files come with the program, so that whatever is wrong in one is a mistake of ours."""
    assert [(each.key, dict(each.facts)) for each in problems_of_words(language)] == []
    assert [(each.key, dict(each.facts)) for each in problems_of_query_words(language)] == []


@every_language
def test_nothing_stands_there_in_english(language):
    """What is the same word in both languages is listed, so that a copied sentence shows."""
    same = set(yaml.safe_load(SAME.read_text(encoding="utf-8"))[language])
    english = dict(texts("en"))
    left = {text for key, text in texts(language) if text == english.get(key) and WORD.search(bare(text)) and not is_command(key)}
    assert left == same


@every_language
def test_a_command_is_the_same_in_every_language(language):
    english = dict(texts("en"))
    commands = [key for key in english if is_command(key)]
    assert len(commands) > 50
    assert [key for key, text in texts(language) if is_command(key) and text != english[key]] == []


@every_language
def test_the_verdicts_cannot_be_taken_for_each_other(language):
    """Read in a hurry, by half a word: another letter first, another length, and no word of one stands in another."""
    said = [str(wording(language).flat[f"verdict.{each}"]).casefold() for each in ("fit", "ask", "no")]
    assert len({each[0] for each in said}) == len({len(each) for each in said}) == 3
    assert [(word, other) for each in said for word in each.split() for other in said if other != each and word in other] == []


def is_command(key):
    return key.startswith(("mends.", "today.tasks.")) and key.endswith(".command")


def bare(text):
    return re.sub(r"\{[^}]*\}", "", text)


@pytest.fixture
def site(language, tmp_path_factory, warm_store):
    return site_in(language, tmp_path_factory, warm_store)


@cache
def own_words(language):
    """Of the words files, whatever the casing: of a sentence taken apart too."""
    return {word for _, text in texts(language) for word in WORDS.findall(text)}


@pytest.mark.slow
@every_language
def test_no_word_of_a_page_comes_from_elsewhere(language, site):
    known = words_of_records() | {"cm²"} | own_words(language) | INTERNATIONAL | theme_words(language)
    pages = [each for each in sorted(site.rglob("*.html")) if "guide" not in each.parts and each.name != "changelog.html"]
    assert len(pages) > 10
    left = {}
    for file in pages:
        page = Built(file)
        assert page.every("html")[0].attributes["lang"] == language
        if found := {word for text in shown_words(page) for word in WORDS.findall(text)} - known:
            left[file.name] = found
    assert left == {}


def theme_words(language):
    """The one sentence of the theme that a page holds, in the theme's own words of that language."""
    return {"de": {"Zum", "Inhalt"}, "da": {"Gå", "til", "indholdet"}}[language]


@pytest.mark.slow
@every_language
def test_no_english_phrase_is_left_on_a_page(language, site):
    """A word that our records hold too is no proof, two in a row are."""
    said = phrases(language)
    assert len(said) > 1000
    any_of_them = any_of(said)
    for file in sorted(site.rglob("*.html")):
        if file.name not in ("changelog.html", "terms.html"):
            page = Built(file)
            typed = {each.text for each in page.every("code")}  # commands and files are the same in every language
            shown = "\n".join(piece for piece in shown_words(page) if piece not in typed)
            assert set(any_of_them.findall(shown)) == set(), file.name


@every_language
@pytest.mark.parametrize("guide", ["mechanics", "tablet", "specialist", "lists", "changes", "fitted", "story"])
def test_a_guide_says_as_much_in_every_language(language, guide):
    english = (GUIDES / f"{guide}.md").read_text(encoding="utf-8")
    own = (GUIDES / f"{guide}.{language}.md").read_text(encoding="utf-8")
    assert frame(own) == frame(english)
    assert own.count("\n|") == english.count("\n|")
    assert own.count("\n- ") == english.count("\n- ")


def frame(text):
    kept = [REMARK.sub("", REASON.sub("", ANCHOR.sub("#)", each) if each.startswith("](") else each)) for each in FRAME.findall(text)]
    return [each for each in kept if not each.startswith("<p>")]


@every_language
def test_each_words_file_of_english_has_its_own(language):
    assert [name for name, file in words_files(language) if not file.is_file()] == []


def test_a_page_stands_in_the_depots_language_and_a_translation_nowhere_else():
    pages = ["guide/a.md", "guide/a.de.md", "guide/b.md", "notes.de.md", "x.png", "x.de.png"]
    assert standing_in("de", pages) == {
        "guide/a.md": "guide/a.de.md", "guide/b.md": "guide/b.md", "notes.de.md": "notes.de.md", "x.png": "x.png", "x.de.png": "x.de.png",
    }  # fmt: skip
    assert standing_in("da", pages)["guide/a.md"] == "guide/a.md"
    assert "guide/a.de.md" not in standing_in("da", pages)


def test_what_the_fire_standard_says_has_its_words():
    """Else a mended table would stand in English on every page."""
    table = yaml.safe_load((STANDARDS / "en-45545-2.yml").read_text(encoding="utf-8"))
    tree = wording("en").tree
    assert {each["set"]: each["says"] for each in table["sets"]} == tree["fire_sets"]
    assert {each["test"]: each["quantity"] for each in table["methods"]} == tree["fire_tests"]["quantity"]
    assert {each["product"]: each["name"] for each in table["products"]} == tree["fire_products"]
    limits = [limit for each in table["sets"] for limit in each.get("limits", ())]
    small = table["small_parts"]
    sources = {each["source"] for each in (*table["sets"], *table["products"], *limits, small)}
    told = {table["clause"], table["note"], small["clause"], PRODUCTS, HAZARD_LEVELS.clause, *sources}
    assert {each for each in told if not re.fullmatch(r"S\d( S\d)*", each)} == set(tree["fire_told"].values())


@every_language
def test_a_table_of_the_depots_own_says_what_it_says(language):
    w = wording(language)
    assert standard_words("memory", w) == w("fire_told.memory") != "memory"
    assert standard_words("as our own copy has it", w) == "as our own copy has it"
