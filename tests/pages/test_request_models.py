"""What does the page of requests show of a request's model?"""

import re

import pytest

from generator.geometry.likeness.kinds import Compared, Sameness
from generator.geometry.measured import Kept
from generator.pages.site import site
from generator.rules.answering import answer
from generator.rules.asked_alike import AskedShape, Resembled
from tests.pages.sample import CATALOGUE, DAY, WORKED, judged_sample


@pytest.fixture(scope="module")
def judged():
    return judged_sample(CATALOGUE)


def pages(judged, **of_shape):
    catalogue, sheets, problems = judged
    name = next(name for name, each in catalogue.requests.items() if not answer(each, catalogue))
    shape = AskedShape(pictures=WORKED.pictures, size_mm=(40.0, 20.0, 10.0), **of_shape)
    made = site(catalogue, sheets, problems, DAY, lambda *_: {}, asked={name: shape})
    text = next(each.text for each in made.pages if each.path == "requests.md")
    return text[text.index("asked__model") :], {each.path: each.content for each in made.assets}


def like(number, kind=Sameness.SIMILAR, *, is_request=False):
    lies = Compared(kind=kind, distance_mm=0.186, ratio=1.0, covered=0.97, explained=0.98, within_mm=0.1)
    return Resembled(number=number, is_request=is_request, compared=lies)


def test_a_model_is_shown_beside_what_it_is_like_with_word_and_distance(judged):
    text, assets = pages(judged, like=(like("P-0001"), like("P-0002", Sameness.SAME)), beside=Kept("both", lambda: b"PNG"))
    assert re.search(r'<a href="parts/P-0001\.html">P-0001 [^<]+</a>: similar, 0\.19 mm apart on average, 97 % of it covered', text)
    assert ">P-0002 " in text
    assert "same shape" in text
    (shown,) = re.findall(r'<img class="asked__beside" src="([^"]+)"', text)
    assert assets[shown] == b"PNG"
    assert "says nothing about fitting" in text


def test_a_model_that_is_like_nothing_is_shown_alone(judged):
    text, assets = pages(judged)
    (shown,) = re.findall(r'<img class="asked__seen" src="([^"]+)"', text)
    assert assets[shown] == WORKED.pictures.front.read()
    assert "No part and no other request" in text
    assert "<ul>" not in text[: text.index("</section>")]


def test_another_request_is_led_to_on_the_same_page(judged):
    catalogue, *_ = judged
    name = next(iter(catalogue.requests))
    text, _ = pages(judged, like=(like(name, is_request=True),), beside=Kept("both", lambda: b"PNG"))
    assert f'<a href="#{name}">{name} ' in text
