"""Whatever a record says stays text: in Markdown, in tables, in HTML and in attributes."""

from html import unescape
from html.parser import HTMLParser

import pytest
from hypothesis import given
from hypothesis import strategies as st
from markdown import Markdown

from generator.pages.marks import ENVIRONMENT, address, block, safe, shown

HOSTILE = [
    "<script>alert(1)</script>",
    '"><img src=x onerror=alert(1)>',
    "[link](javascript:alert(1))",
    "![image](https://elsewhere.example/x.png)",
    "a | b | c",
    "`code` and *stars* and __lines__ and ~~waves~~",
    "# no heading",
    "1. no list",
    "- no list",
    "+ no list",
    "--- no rule",
    "===",
    "> no quote",
    "&lt;already&gt; &amp;",
    "{: onclick=x }",
    "\\* \\_",
    "[TOC]",
    "<!-- no comment -->",
    "</div></div>",
    "{{ 7 * 7 }} {% raw %}",
    "🔧 مقبض \u202e",
    "<https://elsewhere.example>",
    "[^1]: note",
    "]]>",
]


class Words(HTMLParser):
    """Collects tags, attributes and text."""

    def __init__(self) -> None:
        super().__init__(convert_charrefs=True)
        self.tags: list[str] = []
        self.attributes: list[tuple[str, str | None]] = []
        self.text = ""

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.append(tag)
        self.attributes += attrs

    def handle_data(self, data: str) -> None:
        self.text += data


def read(html: str) -> Words:
    words = Words()
    words.feed(html)
    words.close()
    return words


def one_line(text: str) -> str:
    return " ".join(text.split())


def rendered(markdown: str) -> Words:
    return read(Markdown(extensions=["tables", "toc", "fenced_code", "md_in_html"]).convert(markdown))


@pytest.mark.parametrize("text", HOSTILE)
def test_text_shows_as_it_is_in_a_paragraph(text: str) -> None:
    found = rendered(f"{safe(text)}\n")
    assert one_line(found.text) == one_line(text)
    assert found.tags == ["p"]


@pytest.mark.parametrize("text", HOSTILE)
def test_text_shows_as_it_is_in_a_list_and_a_heading(text: str) -> None:
    found = rendered(f"# {shown(text)}\n\n- {safe(text)}\n")
    assert found.tags == ["h1", "bdi", "ul", "li"]
    assert one_line(found.text) == one_line(f"{text} {text}")


@pytest.mark.parametrize("text", HOSTILE)
def test_text_shows_as_it_is_in_a_table_cell(text: str) -> None:
    found = rendered(f"| a | b |\n|---|---|\n| {safe(text)} | end |\n")
    assert found.tags == ["table", "thead", "tr", "th", "th", "tbody", "tr", "td", "td"]
    assert one_line(text) in one_line(found.text)


@pytest.mark.parametrize("text", HOSTILE)
def test_text_stays_inside_an_attribute(text: str) -> None:
    html = f'<img alt="{safe(text)}">'
    assert read(html).tags == ["img"]
    assert one_line(unescape(html)) == one_line(f'<img alt="{text}">')


# Python-Markdown marks its own places with U+0002 and U+0003; records refuse all control characters.
@given(st.text(st.characters(exclude_categories=["Cc", "Cs"]), min_size=1, max_size=60))
def test_any_text_is_one_paragraph(text: str) -> None:
    found = rendered(f"x {safe(text)} x\n")
    assert found.tags == ["p"]
    assert one_line(found.text) == one_line(f"x {text} x")


@given(st.text(st.characters(exclude_categories=["Cc", "Cs"]), min_size=1, max_size=60))
def test_any_text_at_the_start_of_a_line_is_one_paragraph(text: str) -> None:
    found = rendered(f"{safe(text)}\n\nend\n")
    assert set(found.tags) == {"p"}


def test_templates_make_safe_whatever_they_place() -> None:
    template = ENVIRONMENT.from_string("{{ text }} {{ text|shown }}")
    assert template.render(text="<b>") == "&lt;b&gt; <bdi>&lt;b&gt;</bdi>"


def test_preformatted_text_keeps_its_lines_and_ends_no_block() -> None:
    assert str(block("a\n\n<b>\n")) == "a\n&#32;\n&lt;b&gt;"


def test_an_address_that_is_not_quoted_is_refused() -> None:
    assert address("a/b-1.webp#x") == "a/b-1.webp#x"
    for bad in ("javascript:alert(1)", 'x" onload="y', "a b", "https://elsewhere.example"):
        with pytest.raises(ValueError, match="must be quoted"):
            address(bad)
