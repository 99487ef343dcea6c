"""Fitting notes may say much and do nothing."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator.pages.part.notes import _through_markdown, cleaned, plain_list
from tests.pages.test_marks import read

LINKS = {
    "documents/drawing.pdf": "TV-1/documents/drawing.pdf",
    "photos/latch one.jpg": "TV-1/photos/latch%20one.jpg",
}


@pytest.mark.parametrize(
    ("text", "html"),
    [
        ("- a\n- b", "<ul>\n<li>a</li>\n<li>b</li>\n</ul>"),
        ("1. a **b**\n2. c", "<ol>\n<li>a <strong>b</strong></li>\n<li>c</li>\n</ol>"),
        ("[drawing](documents/drawing.pdf)", '<p><a href="TV-1/documents/drawing.pdf">drawing</a></p>'),
        ("[drawing](./documents/drawing.pdf)", '<p><a href="TV-1/documents/drawing.pdf">drawing</a></p>'),
        ("[x](javascript:alert)", "<p><a>x</a></p>"),
        ("[x](https://elsewhere.example/)", "<p><a>x</a></p>"),
        ("[x](//elsewhere.example/)", "<p><a>x</a></p>"),
        ("[x](../../secret.txt)", "<p><a>x</a></p>"),
        ("[x](documents/missing.pdf)", "<p><a>x</a></p>"),
        ("![x](https://elsewhere.example/x.png)", "<p></p>"),
        ("<iframe src='x'></iframe>a", "<p>a</p>"),
        ("# Own heading", "<h3>Own heading</h3>"),
        ('<p onclick="x" style="color:red" class="verdict--fit">a</p>', "<p>a</p>"),
    ],
)
def test_what_becomes_of_a_note(text: str, html: str) -> None:
    assert str(cleaned(text, LINKS)) == html


def test_a_photo_of_the_part_is_shown_with_its_room_kept_free() -> None:
    html = cleaned("![latch](photos/latch%20one.jpg)", LINKS)
    assert 'src="TV-1/photos/latch%20one.jpg"' in html
    assert 'alt="latch"' in html
    assert 'loading="lazy"' in html
    assert 'width="640"' in html


# The classic ways to make a page act, after the OWASP cheat sheet on filter evasion; from memory.
ATTACKS = [
    "<script>alert(1)</script>",
    "<SCRIPT SRC=//elsewhere.example/x.js></SCRIPT>",
    "<img src=x onerror=alert(1)>",
    "<svg onload=alert(1)>",
    "<svg><script>alert(1)</script></svg>",
    "<math><mtext></form><form><mglyph><style></math><img src onerror=alert(1)>",
    "<a href='java\tscript:alert(1)'>x</a>",
    "<a href='&#106;avascript:alert(1)'>x</a>",
    "<a href='data:text/html,<script>alert(1)</script>'>x</a>",
    "<iframe srcdoc='<script>alert(1)</script>'></iframe>",
    "<object data=x></object><embed src=x>",
    "<form action=//elsewhere.example><button>x</button></form>",
    "<base href=//elsewhere.example>",
    "<link rel=stylesheet href=//elsewhere.example/x.css>",
    "<style>@import url(//elsewhere.example/x.css)</style>",
    "<div style='background:url(//elsewhere.example/x.png)'>x</div>",
    "<meta http-equiv=refresh content='0;url=//elsewhere.example'>",
    "<template><script>alert(1)</script></template>",
    "<noscript><p title='</noscript><img src=x onerror=alert(1)>'>",
    "<input autofocus onfocus=alert(1)>",
    "<details open ontoggle=alert(1)>",
    "<video poster=//elsewhere.example/x><source onerror=alert(1)>",
    "<a id=spares name=spares href='documents/drawing.pdf'>x</a>",
    "</div></div><script>alert(1)</script>",
    "```\n<script>alert(1)</script>\n```",
    "- x\n\n    <script>alert(1)</script>",
]
KEPT = {
    "p", "br", "hr", "ul", "ol", "li", "strong", "em", "b", "i", "s", "sub", "sup", "code", "pre", "blockquote", "h3",
    "h4", "h5", "h6", "table", "thead", "tbody", "tr", "th", "td", "a", "img", "kbd", "dl", "dt", "dd", "bdi",
}  # fmt: skip


@pytest.mark.parametrize("attack", ATTACKS)
def test_nothing_that_acts_gets_through(attack: str) -> None:
    found = read(str(cleaned(attack, LINKS)))
    assert set(found.tags) <= KEPT
    for name, value in found.attributes:
        assert name in ("href", "src", "alt", "start", "loading", "width", "height")
        assert name not in ("href", "src") or value in LINKS.values()


@given(st.text(max_size=200))
def test_any_text_gives_only_kept_tags_and_no_blank_line(text: str) -> None:
    html = str(cleaned(text, LINKS))
    assert set(read(html).tags) <= KEPT
    assert "\n\n" not in html


SENTENCE = st.text(st.sampled_from("aé1.-:,;()/'\"°= **"), max_size=20).map(lambda text: f"A{text}")


@pytest.mark.parametrize("sign", ["- ", "{n}. "])
@given(sentences=st.lists(SENTENCE, min_size=1, max_size=4))
def test_the_short_way_of_a_plain_list_gives_what_the_long_way_gives(sign: str, sentences: list[str]) -> None:
    text = "\n".join(sign.format(n=n) + sentence for n, sentence in enumerate(sentences, 1))
    short = plain_list(text)
    assert short is None or short == _through_markdown(text, {})


def test_the_usual_note_goes_the_short_way() -> None:
    assert plain_list("1. Set the **left** cap, then turn it.\n2. Hand-tight.") is not None
    assert plain_list("- see [x](y)") is None
    assert plain_list("- a\n\n- b") is None
    assert plain_list("3. A\n4. B") is None
