"""A submission as a PDF that is to be kept: the first page, then each part's sections, then the list of documents."""

import math
import re
from collections.abc import Iterable, Mapping, Sequence
from typing import Any

from generator.pages.part.story import ChangeLine
from generator.pages.submissions.kinds import (
    Attachment,
    Block,
    Dossier,
    Figure,
    Submission,
    SubmissionGap,
    SubmissionSection,
)
from generator.pages.wording import Wording
from generator.papers.document import foot, head
from generator.papers.typesetting import ArchivedPaper, typeset_to_keep

_CHANGES_IN_FRONT = 6
_CHANGES_IN_LINE = 3
_LONG_CHANGE = 160
_REFERENCES = re.compile(r"D[0-9]+(?:, D[0-9]+)*")
_FEW_LETTERS, _MANY_LETTERS = 14, 90
_MEASURED = 12
"""Of so many of its longest words the typesetter measures a column: the widest word is not always that of most letters."""
_SIZE = re.compile(rb'width="([0-9.]+)mm" height="([0-9.]+)mm"')
_WORDS = ("asked", "changed", "gaps", "shared", "documents", "contents")


def submission_paper(value: Submission, w: Wording) -> ArchivedPaper:
    """A4 upright; a drawing has a page of its own size. The same value gives the same bytes."""
    first, together = value.dossiers[0], _together(value.dossiers, w)
    data = {
        **head(value.title, w),
        "subtitle": value.subtitle,
        "only": value.only,
        "answer_to": value.answer_to,
        "foot": foot(", ".join(each.number for each in value.dossiers), first.fingerprint[:16] if len(value.dossiers) == 1 else "", w.day(value.day)),
        "words": {key: w(f"submission.section.{key}") for key in _WORDS} | {"fingerprint": w("submission.fingerprint")},
        "shared": [_block(each, value.attachments) for each in value.shared],
        "summary": _summary(value, w),
        "no_gaps": "" if any(each.gaps for each in value.dossiers) else w("submission.no_gaps"),
        "together": together,
        "gaps_at": _gaps_at(together, w),
        "dossiers": [_dossier(at, each, value, w) for at, each in enumerate(value.dossiers)],
        "documents": _documents(value.attachments, w),
    }
    return typeset_to_keep("submission", data, value.day)


def _dossier(at: int, dossier: Dossier, value: Submission, w: Wording) -> dict[str, Any]:
    sections = [section for section in dossier.sections if section.shown or section.nothing]
    if dossier.changes:
        sections.insert(next((i + 1 for i, each in enumerate(sections) if each.key == "carried"), len(sections)), _changes(dossier, w))
    numbers = {section.key: number for number, section in enumerate(sections, start=1)} | {"documents": 0}
    return {
        "at": at,
        "title": f"{dossier.number} {dossier.name}",
        "asked": dossier.asked,
        "fingerprint": dossier.fingerprint or w("submission.no_fingerprint"),
        "fingerprint_says": _fingerprint_says(dossier, w),
        "numbering": dossier.numbering,
        "against": dossier.against,
        "changes": _in_front(dossier, w),
        "gap_count": w.count("submission.gap_count", len(dossier.gaps)) if dossier.gaps else w("submission.no_gaps"),
        "gaps": [_gap(each, numbers, w) for each in dossier.gaps],
        "sections": [_section(numbers[each.key], each, value.attachments) for each in sections],
    }


def _fingerprint_says(dossier: Dossier, w: Wording) -> str:
    """Of what it is the sum, and whether the record of the step will keep it."""
    key = "kept" if dossier.is_sum_kept else "unkept"
    return w(f"submission.fingerprint_{key}", number=dossier.number) if dossier.fingerprint else ""


def _summary(value: Submission, w: Wording) -> dict[str, Any]:
    """A line for each part: what is asked of which revision, what has changed, and how many gaps it has."""
    rows = [
        [
            f"{each.number} {each.name}",
            w("submission.step_over" if each.is_over else "submission.step_of", step=w(f"submission.step.{each.asks.value}"), revision=each.revision, until=each.until or None),
            _changed_in_short(each, w),
            w.number(len(each.gaps)),
        ]
        for each in value.dossiers
    ]
    return {"columns": [w(f"submission.label.{key}") for key in ("part", "step", "changes", "gaps")], "rows": rows}


def _changed_in_short(dossier: Dossier, w: Wording) -> str:
    """What, by its names; before and after stand where the part begins."""
    if not dossier.is_compared:
        return w("submission.not_compared")
    names = list(dict.fromkeys(each.what for each in dossier.changes))
    more = len(names) - _CHANGES_IN_LINE
    return "; ".join([*names[:_CHANGES_IN_LINE], *([w.count("submission.more_changed", more)] if more > 0 else [])]) or w("submission.none_changed")


def _gaps_at(together: Sequence[Mapping[str, Any]], w: Wording) -> dict[str, str]:
    """How many gaps there are, and on which pages: the typesetter fills {from} and {to} in."""
    n = len(together)
    return {key: w.count(f"submission.gaps_{key}", n, **{"from": "{from}", "to": "{to}"}) if n else "" for key in ("page", "pages")}


def _together(dossiers: Sequence[Dossier], w: Wording) -> list[dict[str, Any]]:
    """Every gap of the parts, what is the same told once: those of most parts first."""
    parts: dict[str, list[int]] = {}
    for at, dossier in enumerate(dossiers):
        for gap in dossier.gaps:
            parts.setdefault(_gap_words(gap, w), []).append(at)
    found = sorted(parts.items(), key=lambda each: -len(each[1]))
    return [{"says": says, "of": [[at, dossiers[at].number] for at in dict.fromkeys(of)]} for says, of in found]


def _in_front(dossier: Dossier, w: Wording) -> list[str]:
    """The worst first, as many as leave room for the gaps."""
    lines = [_change(each, w) for each in dossier.changes[:_CHANGES_IN_FRONT]]
    more = len(dossier.changes) - len(lines)
    if not dossier.changes and dossier.is_compared:
        lines.append(w("submission.unchanged"))
    return [*lines, *([w.count("submission.more_changes", more)] if more else [])]


def _change(each: ChangeLine, w: Wording) -> str:
    """Before and after, where both are short; what is long stands whole in the table, and nothing is cut."""
    if len(each.approved) + len(each.now) > _LONG_CHANGE:
        return w("submission.long_change", what=each.what, means=each.means)
    return w("submission.short_change", what=each.what, approved=each.approved, now=each.now, means=each.means)


def _changes(dossier: Dossier, w: Wording) -> SubmissionSection:
    columns = tuple(w(f"submission.label.{key}") for key in ("changed", "approved", "now", "means", "why"))
    rows = tuple((each.what, each.approved, each.now, each.means, each.why) for each in dossier.changes)
    return SubmissionSection(key="changed", heading=w("submission.section.changed"), blocks=(Block(says=(dossier.against,), columns=columns, rows=rows),))


def _gap(gap: SubmissionGap, numbers: dict[str, int], w: Wording) -> dict[str, Any]:
    """number: of its section, 0 of the documents, which have none, and -1 of one that is not there. The typesetter fills {page} in."""
    number = numbers.get(gap.section, -1)
    at = w("submission.gap_at", number=str(number), page="{page}") if number else w("submission.gap_at_documents", page="{page}")
    return {"says": _gap_words(gap, w), "section": gap.section, "number": number, "at": at}


def _gap_words(gap: SubmissionGap, w: Wording) -> str:
    where = w("list_separator").join(gap.where)
    return w("submission.gap_where", says=gap.says, where=where) if where else gap.says


def _section(number: int, section: SubmissionSection, attached: Sequence[Attachment]) -> dict[str, Any]:
    shown = section.shown
    nothing = section.nothing if not shown else ""
    return {"key": section.key, "number": number, "heading": section.heading, "nothing": nothing, "blocks": [_block(each, attached) for each in shown]}


def _block(block: Block, attached: Sequence[Attachment]) -> dict[str, Any]:
    if any(len(row) != len(block.columns) for row in block.rows):
        raise ValueError(f"a row of '{block.heading}' has not as many cells as there are columns")
    known = {each.number for each in attached}
    return {
        "heading": block.heading,
        "says": list(block.says),
        "pairs": [list(pair) for pair in block.pairs],
        "columns": list(block.columns),
        "widths": _shares(block),
        "unbroken": _unbroken(block),
        "rows": [[_cell(cell, known) for cell in row] for row in block.rows],
        "figures": [_figure(each) for each in block.figures],
        "documents": [number for number in block.documents if number in known],
    }


def _cell(text: str, known: set[int]) -> dict[str, Any]:
    """A cell that is nothing but numbers of documents leads to these."""
    numbers = [int(each[1:]) for each in text.split(", ")] if _REFERENCES.fullmatch(text) else []
    return {"lines": [], "refs": numbers} if numbers and known.issuperset(numbers) else {"lines": text.split("\n"), "refs": []}


def _columns(block: Block) -> list[tuple[str, ...]]:
    return list(zip(*(block.columns, *block.rows), strict=True)) if block.columns else []


def _shares(block: Block) -> list[float]:
    """Shares of what is left of the page's width, by what a column says; 0 of one that is as wide as its own few letters."""
    return [_share(column) for column in _columns(block)]


def _unbroken(block: Block) -> list[list[str]]:
    """What each column is to hold in one line: its longest words, or its longest lines where it has few letters."""
    return [_longest(column, whole=not share) for column, share in zip(_columns(block), _shares(block), strict=True)]


def _longest(column: Iterable[str], *, whole: bool) -> list[str]:
    found = {piece for cell in column for line in cell.split("\n") for piece in ([line] if whole else line.split())}
    return sorted(found, key=lambda each: (-len(each), each))[:_MEASURED]


def _share(column: Iterable[str]) -> float:
    line = max((len(line) for cell in column for line in cell.split("\n")), default=1)
    return 0.0 if line <= _FEW_LETTERS else math.pow(min(line, _MANY_LETTERS), 0.8)


def _figure(figure: Figure) -> dict[str, Any]:
    size = _SIZE.search(figure.content[:400]) if figure.kind == "svg" else None
    is_text = figure.kind == "svg"
    return {
        "kind": figure.kind,
        "text": figure.content.decode("utf-8") if is_text else "",
        "bytes": [] if is_text else list(figure.content),
        "says": figure.says,
        "sheet": [float(size[1]), float(size[2])] if size and figure.is_sheet else [],
    }


def _documents(attached: Sequence[Attachment], w: Wording) -> dict[str, Any]:
    columns = [w(f"submission.label.{key}") for key in ("question_number", "file_sum", "part", "size")]
    return {
        "says": w("submission.documents_says") if attached else w("submission.no_documents"),
        "columns": columns,
        "rows": [_document(each, w) for each in attached],
    }


def _document(each: Attachment, w: Wording) -> dict[str, Any]:
    stored = w("submission.same_as", number=str(each.same_as)) if each.same_as else each.stored_as
    return {
        "number": each.number,
        "lines": [f"{each.name} ({each.what})", *filter(None, (stored,))],
        "doubt": each.doubt,
        "of": ", ".join(each.of),
        "size": w("submission.kb", kb=w.number(max(1, round(each.size_bytes / 1000)))) if each.size_bytes else w("missing"),
        "sha256": each.sha256 or w("missing"),
    }
