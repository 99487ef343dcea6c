"""The notice of a recall as a PDF. In black on white and without a sign: the shapes and colours of ISO 3864 and ISO 7010 are for safety signs."""

from generator.pages.wording import Wording
from generator.papers.document import code_of, fact, foot, head
from generator.papers.kinds import RecallNotice
from generator.papers.typesetting import typeset

_COLUMNS = ("vehicle", "place", "position", "count", "removed", "role_day")
_WORDS = ("title", "look_for", "no_label", "where", "nowhere", "caution")


def recall_notice(notice: RecallNotice, w: Wording) -> bytes:
    """A4 upright: what, why, how its label looks, where it is with a box to tick for each, and who decides."""
    facts = [
        *(fact(w("papers.recall.what") if at == 0 else "", each) for at, each in enumerate(notice.what)),
        fact(w("papers.recall.why"), notice.why),
        fact(w("papers.recall.by"), notice.by),
        fact(w("papers.recall.day"), w.day(notice.on)),
        *([fact(w("papers.recall.reference"), notice.reference)] if notice.reference else []),
        *([fact(w("papers.recall.meanwhile"), notice.instead)] if notice.instead else []),
    ]
    data = {
        **head(f"{w('papers.recall.title')}: {'; '.join(notice.what)}", w),
        "foot": foot(*notice.look_for[:3]),
        "words": {key: w(f"papers.recall.{key}") for key in _WORDS},
        "columns": [w(f"papers.recall.{key}") for key in _COLUMNS],
        "facts": facts,
        "look_for": list(notice.look_for),
        "rows": [[each.vehicle, each.place, each.position, each.count] for each in notice.found_at],
        "code": code_of(notice.code, w("papers.recall.open")) if notice.code else None,
    }
    return typeset("recall", data)
