"""A submission for programs: index.json of the zip, with every file's SHA-256. Its keys stay English in every language."""

import json
from collections.abc import Mapping
from typing import Any

from generator.pages.submissions.kinds import Attachment, Dossier, ReviewQuestion, Submission

FORM = 1
"""Grows when a key comes to mean something else."""


def index_of(value: Submission, written: Mapping[str, tuple[int, str]]) -> bytes:
    """written: size and SHA-256 of what was made for the zip, by its name in it: the paper and the bound texts."""
    stored = {each.stored_as: each for each in reversed(value.attachments) if each.stored_as}
    files = {name: {"name": name, "size_bytes": size, "sha256": sha256} for name, (size, sha256) in written.items()}
    files |= {name: {"name": name, "size_bytes": each.size_bytes, "sha256": each.sha256} for name, each in stored.items()}
    told = {
        "form": FORM,
        "title": value.title,
        "day": value.day.isoformat(),
        "answer_to": value.answer_to or None,
        "only": value.only or None,
        "parts": [_part(each) for each in value.dossiers],
        "documents": [_document(each) for each in value.attachments],
        "files": [files[name] for name in sorted(files)],
    }
    return (json.dumps(told, ensure_ascii=False, indent=1) + "\n").encode("utf-8", "replace")


def bound_name(number: str) -> str:
    """Where the text lies in the zip whose SHA-256 is the fingerprint."""
    return f"bound/{number}.txt"


def _part(dossier: Dossier) -> dict[str, Any]:
    return {
        "number": dossier.number,
        "name": dossier.name,
        "revision": dossier.revision,
        "asks": dossier.asks.value,
        "fingerprint": dossier.fingerprint or None,
        "bound": bound_name(dossier.number) if dossier.text else None,
        "against": dossier.against,
        "changes": [{"what": each.what, "approved": each.approved, "now": each.now, "means": each.means} for each in dossier.changes],
        "gaps": [{"says": each.says, "where": list(each.where), "section": each.section} for each in dossier.gaps],
        "next_question": f"Q{len(dossier.questions) + 1}",
        "questions": [_question(each) for each in dossier.questions],
    }


def _question(each: ReviewQuestion) -> dict[str, Any]:
    answer = each.answer
    return {
        "number": f"Q{each.number}",
        "asked_on": each.asked.on.isoformat(),
        "question": each.asked.question,
        "answered_on": answer.on.isoformat() if answer else None,
        "answer": (answer.note or answer.reference) if answer else None,
    }


def _document(each: Attachment) -> dict[str, Any]:
    return {
        "number": f"D{each.number}",
        "title": each.name,
        "kind": each.what,
        "parts": list(each.of),
        "path": each.path,
        "size_bytes": each.size_bytes,
        "sha256": each.sha256 or None,
        "name": each.stored_as or None,
        "doubt": each.doubt or None,
    }
