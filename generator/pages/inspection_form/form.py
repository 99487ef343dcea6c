"""What the sheet's scripts need to know of a batch and of the depot: they make a file of the form of records/inspection_sheet.py."""

import json
from collections import Counter
from collections.abc import Iterator
from typing import Any

from markupsafe import Markup

from generator.pages.around import Around
from generator.pages.outputs import Asset
from generator.pages.part.verdict_data import script
from generator.pages.role_choice import role_choices
from generator.records.batches import Batch, Measured, Rejected, Released, Scrapped
from generator.records.placeholders import BLANK
from generator.rules.production.checked import in_order, limits_of
from generator.rules.production.releasing import BatchStanding

DATA = "assets/data/inspection.js"


def waits(batch: Batch, word: BatchStanding, around: Around) -> bool:
    """Whether there is anything to measure, and nobody has released or rejected it with a word that holds."""
    said = isinstance(word.event, Released | Rejected) and not word.is_void
    return bool(not said and around.catalogue.depot and limits_of(batch.printed_as))


def form_of(name: str, batch: Batch, around: Around) -> Markup:
    """Where the form stands; readers without scripts learn of the paper sheet."""
    w = around.w
    scrapped = sum(each.count for each in batch.events if isinstance(each, Scrapped))
    days = [batch.ended.date(), *(each.on for each in batch.events)]
    told = {
        "batch": name,
        "part": batch.part,
        "revision": batch.revision,
        "count": batch.count,
        "left": max(batch.count - scrapped, 0),
        "from": max(days).isoformat(),
        "checks": list(_checks(batch, around)),
    }
    text = w("inspection_form.without_scripts", name=name)
    return Markup('<div class="request" data-inspection="{}"><p>{}</p></div>').format(json.dumps(told), text)


def _checks(batch: Batch, around: Around) -> Iterator[dict[str, str]]:
    w, folder = around.w, around.catalogue.folder(batch.part)
    names = [each.name for each in folder.part.checks] if folder and folder.part else []
    for each in in_order(batch.printed_as, names):
        limits = w("printed.between", least=w.measure(float(each.least), 3), most=w.measure(float(each.most), 3))
        yield {"name": each.name, "least": str(each.least), "most": str(each.most), "limits": limits, "with": each.measured_with or ""}


def inspection_data(around: Around) -> Asset:
    """assets/data/inspection.js: the depot, its roles, what names no gauge, and the words."""
    depot, w = around.catalogue.depot, around.w
    content: dict[str, Any] = {
        "railway": depot.railway if depot else "",
        "depot": depot.depot if depot else "",
        "contact": depot.contact if depot else "",
        "roles": role_choices(depot, Counter(_measured_by(around))),
        "blank": BLANK,
        "words": {**w.tree["inspection_form"], **w.tree["request"]["roles"]},
        "done": w.tree["request"]["done"],
    }
    return Asset(path=DATA, content=script("sparesInspection", content))


def _measured_by(around: Around) -> Iterator[str]:
    for batch in around.catalogue.production.batches.values():
        yield from (each.by for each in batch.events if isinstance(each, Measured))
