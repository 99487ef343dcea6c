"""What stands in a built page: every element with its attributes, and the text a reader sees."""

from dataclasses import dataclass, field
from functools import cache
from html.parser import HTMLParser
from pathlib import Path

VOID = {"area", "base", "br", "col", "embed", "hr", "img", "input", "link", "meta", "source", "track", "wbr"}


@dataclass
class Element:
    tag: str
    attributes: dict[str, str]
    inside: tuple[str, ...]
    text: str = ""


@dataclass
class Built(HTMLParser):
    """One page, read."""

    path: Path
    elements: list[Element] = field(default_factory=list)
    text: str = ""
    pieces: list[str] = field(default_factory=list)
    """The same text where each element begins and ends."""

    def __post_init__(self) -> None:
        super().__init__(convert_charrefs=True)
        self.open: list[Element] = []
        self.feed(self.path.read_text(encoding="utf-8"))
        self.close()

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        element = Element(
            tag, {key: value or "" for key, value in attrs}, tuple(each.tag for each in self.open)
        )
        self.elements.append(element)
        if tag not in VOID:
            self.open.append(element)

    def handle_endtag(self, tag: str) -> None:
        while self.open and self.open.pop().tag != tag:
            pass

    def handle_data(self, data: str) -> None:
        for element in self.open:
            element.text += data
        if not any(element.tag in ("script", "style", "title") for element in self.open):
            self.text += data
            self.pieces.append(data)

    def every(self, tag: str) -> list[Element]:
        return [element for element in self.elements if element.tag == tag]

    def of_class(self, name: str) -> list[Element]:
        return [each for each in self.elements if name in each.attributes.get("class", "").split()]


@cache
def pages(site: Path) -> tuple[Built, ...]:
    return tuple(Built(path) for path in sorted(site.rglob("*.html")) if "documents" not in path.parts)
