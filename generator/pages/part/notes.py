"""Which HTML may an author's Markdown become? Text, lists, tables, and links to files of the own part folder."""

import re
from collections.abc import Mapping
from functools import lru_cache
from urllib.parse import unquote

import nh3
from markdown import Markdown
from markupsafe import Markup

_TAGS = {
    "p", "br", "hr", "ul", "ol", "li", "strong", "em", "b", "i", "s", "sub", "sup", "code", "pre", "blockquote",
    "h3", "h4", "h5", "h6", "table", "thead", "tbody", "tr", "th", "td", "a", "img", "kbd", "dl", "dt", "dd", "bdi",
}  # fmt: skip
_CONTENT_TOO = {
    "script",
    "style",
    "iframe",
    "object",
    "embed",
    "svg",
    "math",
    "template",
    "noscript",
    "title",
}
_PLAIN = ("alt", "start", "loading", "width", "height")
_LINKS = {("a", "href"), ("img", "src")}
_LOST_IMAGE = re.compile(r"<img(?![^>]*\ssrc=)[^>]*>")
_HEADING = re.compile(r"<(/?)h[12](?=[\s>])")
# A line of a list whose text begins with a letter and holds no sign that means something in Markdown or HTML.
_PLAIN_TEXT = r"([^\W\d_](?:[^`_\[\]<>&{}!|#~\\\s]| (?! |$))*)"
_ITEMS = {"ul": re.compile(rf"- {_PLAIN_TEXT}"), "ol": re.compile(rf"[0-9]{{1,2}}\. {_PLAIN_TEXT}")}
_STRONG = re.compile(r"(?<![*\w])\*\*([^*\s](?:[^*]*[^*\s])?)\*\*(?![*\w])")


@lru_cache
def _markdown() -> Markdown:
    return Markdown(extensions=["tables", "sane_lists"])  # type: ignore[no-untyped-call]


def cleaned(text: str, links: Mapping[str, str]) -> Markup:
    """The author's Markdown as HTML without blank lines, and without anything that acts or asks another host.

    links: files of the part's folder, such as photos/latch.jpg, and where they lie as seen from the page. A link
    or image that names anything else loses its target; its words stay.
    """
    return plain_list(text) or _through_markdown(text, links)


def plain_list(text: str) -> Markup | None:
    """The HTML of a list of plain sentences, the usual note, without the way through a Markdown parser.

    None for anything else. It saves a tenth of a warm build; a property test holds it to the long way.
    """
    lines = text.split("\n")
    if not lines[0].startswith(("- ", "1. ")):
        return None
    for tag, item in _ITEMS.items():
        items = [item.fullmatch(line) for line in lines]
        if all(items):
            inside = "".join(f"\n<li>{_STRONG.sub(_strong, found[1])}</li>" for found in items if found)
            return None if "*" in inside else Markup(f"<{tag}>{inside}\n</{tag}>")  # noqa: S704
    return None


def _strong(found: re.Match[str]) -> str:
    return f"<strong>{found[1]}</strong>"


def _through_markdown(text: str, links: Mapping[str, str]) -> Markup:
    converter = _markdown()
    html = converter.reset().convert(text)

    def kept(tag: str, attribute: str, value: str) -> str | None:
        if (tag, attribute) in _LINKS:
            return links.get(unquote(value).removeprefix("./"))
        return value if attribute in _PLAIN else None

    clean = nh3.clean(
        _HEADING.sub(r"<\1h3", html),
        tags=_TAGS,
        clean_content_tags=_CONTENT_TOO,
        attributes={"a": {"href"}, "img": {"src", "alt"}, "ol": {"start"}},
        attribute_filter=kept,
        url_schemes=set(),
        link_rel=None,
        set_tag_attribute_values={"img": {"loading": "lazy", "width": "640", "height": "480"}},
    )
    return Markup(_LOST_IMAGE.sub("", clean).strip().replace("\n\n", "\n&#10;"))  # noqa: S704
