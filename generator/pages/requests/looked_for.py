"""What people looked for in vain: the page that tells it, most frequent first."""

from dataclasses import dataclass
from urllib.parse import quote

from generator.pages.around import Around
from generator.pages.marks import front_matter, rendered
from generator.pages.outputs import Page
from generator.pages.wording import Wording
from generator.planning.looked_for import Sought, sought

# More is read by `spares queries`; a page has to stay one that a tablet opens at once.
_MOST = 500


@dataclass(frozen=True, slots=True, kw_only=True)
class SoughtLine:
    text: str
    in_link: str
    """The text in a link to the finder: a part may be there by now."""
    times: str
    last: str


def looked_for_page(around: Around) -> Page:
    """looked-for.html"""
    w = around.w
    found = sought(around.catalogue.queries.values())
    title = w("looked_for.title")
    text = rendered(
        "requests/looked_for.md.j2",
        w=w,
        title=front_matter(title),
        lines=[_line(each, w) for each in found[:_MOST]],
        more=w.count("looked_for.more", len(found) - _MOST) if len(found) > _MOST else None,
    )
    return Page(path="looked-for.md", title=title, template=None, text=text)


def _line(each: Sought, w: Wording) -> SoughtLine:
    return SoughtLine(
        text=each.text,
        in_link=quote(each.text, safe=""),
        times=w.count("looked_for.times", each.times),
        last=w("looked_for.last", last=each.last.isoformat()),
    )
