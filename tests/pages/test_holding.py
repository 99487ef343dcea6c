"""Does it hold? The page of all parts and the section of one, of hand-made histories."""

import re
from dataclasses import replace
from datetime import date
from types import SimpleNamespace

import pytest

from generator.pages.addresses import addresses
from generator.pages.around import Around
from generator.pages.holding.lines import chance_words, counts_words, out_words, said_words, two_digits
from generator.pages.holding.page import holds_page
from generator.pages.holding.section import holds_view
from generator.pages.marks import ENVIRONMENT
from generator.pages.printed.batch import page_of_batch
from generator.pages.wording import from_tree, wording
from generator.planning.holding.whole import every_holds
from generator.records.recalls import Recall
from tests.fixtures.greek import in_greek
from tests.pages.sample import judged_sample
from tests.planning.holding.histories import DAY, batch, line, produced

W = wording("en")
LATIN = re.compile(r"[A-Za-z]{3,}")


def broken_early(name, count=10, still=5):
    for at in range(count):
        yield line(200, on=name, vehicle=f"{name}{at}")
        yield line(190 - 2 * at, off=name, vehicle=f"{name}{at}", why="broken")
    for at in range(still):
        yield line(200, on=name, vehicle=f"{name}s{at}")


def history(**recalls):
    lines = [*broken_early("B-2"), *(line(300, on="B-1", vehicle=f"1{at}") for at in range(20))]
    made = produced(*lines, B_1=batch(part="P-0001"), B_2=batch(part="P-0001", started="2025-02-01 08:00"))
    return replace(made, recalls=recalls)


def catalogue_of(production):
    catalogue, *_ = judged_sample()
    return replace(catalogue, production=production)


def around(production, w=W):
    catalogue = catalogue_of(production)
    return Around(catalogue=catalogue, sheets={}, found=addresses(catalogue.parts, catalogue.materials), w=w, holds=every_holds(catalogue, DAY))


def section_text(holds, w=W):
    view = holds_view(holds, w)
    return str(ENVIRONMENT.from_string('{% import "holding/section.md.j2" as h %}{{ h.section(w, view) }}').render(w=w, view=view))


def test_the_page_of_a_batch_says_how_it_holds():
    made = around(history())
    b1, b2 = (page_of_batch(name, made.catalogue.production.batches[name], made, DAY).text.partition("## Does it hold?")[2] for name in ("B-1", "B-2"))
    assert "Batch B-2 holds worse than the others of revision A: 10 of 15 failed" in b2
    assert "15 pieces fitted, 5 in use; 10 broken" in b2
    assert "None failed in 16 years of use" in b1
    assert "Beside the rest of its revision: " in b1
    untouched = around(produced(B_1=batch(part="P-0001")))
    assert "Does it hold?" not in page_of_batch("B-1", untouched.catalogue.production.batches["B-1"], untouched, DAY).text


def test_a_batch_that_holds_worse_comes_first_and_says_what_to_look_at():
    text = holds_page(around(history()), DAY).text
    first, _, rest = text.partition("## All parts")
    assert "Batch B-2 holds worse than the others of revision A: 10 of 15 failed" in first
    assert "Look at its lots" in first
    assert "2 batches were compared." in first
    assert "35 pieces fitted, 25 in use; 10 broken" in rest


def test_of_a_batch_that_is_called_back_nobody_asks_whether_to_call_it_back():
    call = Recall.model_validate({"batch": "B-2", "events": ({"what": "called back", "on": date(2026, 11, 1), "by": "quality", "why": "breaks", "reference": "R"},)})
    held = every_holds(catalogue_of(history(**{"R-1": call})), DAY)["P-0001"].part
    (said,) = out_words(held, W)
    assert "it is called back" in said
    assert "whether it is to be called back" not in said


def test_the_section_draws_the_batch_beside_the_rest_and_says_it_in_words():
    text = section_text(every_holds(catalogue_of(history()), DAY)["P-0001"])
    labels = re.findall(r'role="img" aria-label="([^"]+)"', text)
    assert len(labels) == 2
    assert "Batch B-2: 15 pieces, 10 failed; after 6.6 months of use 33 &#37; still hold".replace("&#37;", "%") in labels[1]
    assert "the others: 20 pieces, 0 failed" in labels[1]
    assert '<a class="board__part" href="../batches/B-2.html">' in text
    assert "Beware of small numbers" in text
    assert "Look now: something holds worse than it should." in text


def test_nothing_fitted_says_so_and_a_part_without_pieces_has_no_section():
    assert "Nothing that was fitted is written down yet" in holds_page(around(produced()), DAY).text
    assert holds_view(None, W) is None


def test_no_failure_draws_no_curve_and_tells_the_upper_limit():
    made = produced(*(line(300, on="B-1", vehicle=f"1{at}") for at in range(20)), B_1=batch(part="P-0001"))
    text = section_text(every_holds(catalogue_of(made), DAY)["P-0001"])
    assert "<svg" not in text
    assert "None failed in 16 years of use of all pieces together: at most 0.18 failures a year of one piece (95 %)." in text


def test_in_greek_letters_no_word_of_ours_is_left():
    greek = in_greek(W.tree)
    w = from_tree("en", greek)
    made = around(history(), w)
    every = [holds_page(made, DAY).text, section_text(made.holds["P-0001"], w)]
    for text in every:
        plain = re.sub(r'title: "|parts/[^ ]*part\.yml|materials/lots/L-1\.yml|fitted/2026\.csv|<[^>]*>|&#?\w+;|\(parts/[^)]*\)', " ", re.sub(r'aria-label="([^"]*)"', r">\1<", text))
        assert set(LATIN.findall(plain)) <= {"title", "Latch", "the", "bdi"}, text


@pytest.mark.parametrize(
    ("value", "said"), [(0, "0"), (0.00001, "0"), (0.0347, "0.035"), (0.46, "0.46"), (1.527, "1.5"), (2.0, "2"), (31.4, "31"), (1234.0, "1,234"), (0.099999, "0.1")]
)
def test_two_digits_are_enough(value, said):
    assert two_digits(value, W) == said


def test_chance_is_told_as_once_in_so_many():
    assert chance_words(SimpleNamespace(p=0.012, among=4), W) == "about once in 83 (of 4 that were compared)"
    assert chance_words(SimpleNamespace(p=0.00001, among=1), W) == "less often than once in 10,000 (it was the only one compared)"


@pytest.mark.parametrize("language", ["de", "da"])
def test_the_other_languages_say_the_same_figures(language):
    w = wording(language)
    figures = every_holds(catalogue_of(history()), DAY)["P-0001"].part.figures
    assert re.findall(r"\d+", counts_words(figures, w)) == ["35", "25", "10"]
    assert re.findall(r"\d+", said_words(figures, w)) == re.findall(r"\d+", said_words(figures, W))
