"""How does text from records get into Markdown and HTML so that it can only ever be read as text?"""

import json
import re
from functools import lru_cache
from importlib.resources import files

from jinja2 import Environment, PackageLoader, StrictUndefined
from markupsafe import Markup

# Every sign that means something in Markdown, in a table or in HTML, as an entity that both take for plain text.
_SIGNS = {ord(sign): f"&#{ord(sign)};" for sign in '"|`*_[]\\~^={}#$@'} | {
    ord("&"): "&amp;",
    ord("<"): "&lt;",
    ord(">"): "&gt;",
    ord('"'): "&quot;",
}
_ADDRESS = re.compile(r"[A-Za-z0-9._%/#-]*")
_SPECIAL = re.compile("[" + re.escape("".join(map(chr, _SIGNS))) + "]")
_LINE_START = re.compile(r"^(\d*)([-+.)])(?=[\s-]|$)")  # would begin a list or a rule


def safe(text: object) -> Markup:
    """The text as one line that shows as it is, in Markdown, in a table cell, in HTML and in an attribute."""
    return _safe(str(text))


@lru_cache(maxsize=20_000)
def _safe(text: str) -> Markup:
    plain = " ".join(text.split())
    if _SPECIAL.search(plain):
        plain = plain.translate(_SIGNS)
    return Markup(_LINE_START.sub(lambda found: f"{found[1]}&#{ord(found[2])};", plain))  # noqa: S704


def shown(text: object) -> Markup:
    """A name from a record, kept apart from the reading direction of its neighbours."""
    return Markup(f"<bdi>{safe(text)}</bdi>")  # noqa: S704


def block(text: object) -> Markup:
    """Text for <pre>: white space stays, and no blank line ends the block in any Markdown."""
    lines = (str(safe(line)) if line.strip() else "&#32;" for line in str(text).splitlines())
    return Markup("\n".join(lines))  # noqa: S704


def address(path: str) -> Markup:
    """A path that `addresses` has made; ValueError for one that is not safe in a link as it is."""
    if not _ADDRESS.fullmatch(path):
        raise ValueError(f"{path!r} must be quoted before it becomes a link")
    return Markup(path)  # noqa: S704


def _placed(value: object) -> object:
    return value if isinstance(value, Markup) else safe(value)


def _environment() -> Environment:
    # Every value that a template places goes through `safe`, except what is Markup already.
    environment = Environment(
        loader=PackageLoader("generator.pages", "."),
        autoescape=True,
        finalize=_placed,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
        keep_trailing_newline=True,
    )
    environment.filters["shown"] = shown
    environment.filters["block"] = block
    environment.filters["address"] = address
    return environment


def front_matter(text: str) -> Markup:
    """A text as a quoted YAML scalar on one line."""
    line = " ".join(text.split())  # also takes out the line separators that YAML knows and JSON does not
    return Markup(json.dumps(line, ensure_ascii=False))  # noqa: S704


ENVIRONMENT = _environment()
_BLANK_LINES = re.compile(r"\n{3,}")


def source_of(template: str) -> str:
    """A template as it is written, for who keeps what was rendered of it."""
    return (files("generator.pages") / template).read_text(encoding="utf-8")


def rendered(template: str, **views: object) -> str:
    """A template with its views placed; never more than one blank line."""
    text = ENVIRONMENT.get_template(template).render(**views)
    return _BLANK_LINES.sub("\n\n", text).strip() + "\n"
