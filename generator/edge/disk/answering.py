"""A request that a new part is to answer: may it be answered, with what photo does it come, and how its file then reads."""

import difflib
from dataclasses import dataclass
from pathlib import Path

from generator.edge.disk.read_whole import bytes_of
from generator.edge.disk.recording import cannot_append
from generator.edge.refusals import Ending, disk_refusal, refused
from generator.pages.wording import wording
from generator.reading.requests import asked
from generator.reading.yaml_places import read_yaml
from generator.records.catalogue import Catalogue, FileKind
from generator.records.problems import Severity
from generator.records.requests import Request
from generator.rules.answering import answer, worked_on
from generator.writing.appending import CannotAppendError, with_value

_ENDINGS = {FileKind.JPEG: "jpg", FileKind.PNG: "png", FileKind.WEBP: "webp"}


@dataclass(frozen=True, slots=True, kw_only=True)
class AnsweredRequestFile:
    """The request's file with the number of the part that answers it; `before`: the bytes that it must still have."""

    file: Path
    before: bytes
    content: bytes


def request_of(catalogue: Catalogue, given: str, root: Path) -> tuple[str, Request]:
    """The open request of this number, upper or lower case. Raises Refusal for one that cannot be answered."""
    _refuse_mistaken(catalogue, given, root)
    names = [name for name in catalogue.requests if name.casefold() == given.strip().casefold()]
    if not names:
        close = difflib.get_close_matches(given.upper(), catalogue.requests, n=3, cutoff=0.6)
        waiting = sorted(name for name, each in catalogue.requests.items() if answer(each, catalogue) is None)
        key = "no_request" if waiting else "no_open_request"
        raise refused(key, Ending.MISUSE, near=close, given=given, root=str(root), waiting=", ".join(waiting))
    found = catalogue.requests[names[0]]
    if answer(found, catalogue):
        raise refused("answered", request=names[0], number=found.answered_by)
    if number := worked_on(found, catalogue):
        raise refused("worked_on", request=names[0], number=number)
    return names[0], found


def _refuse_mistaken(catalogue: Catalogue, given: str, root: Path) -> None:
    """A request that has mistakes is not called unknown, and no part begins with them."""
    file = f"requests/{given.strip()}.yml".casefold()
    found = [each for each in catalogue.problems if each.where.file.casefold() == file and each.severity is Severity.ERROR]
    wrong = [each for each in found if dict(each.facts).get("kind") != "part"]  # the part is gone: another one answers
    if wrong:
        raise refused("request_mistakes", problems=wrong, below=root, given=given)


def photo_of(name: str, request: Request, catalogue: Catalogue, root: Path) -> dict[str, bytes]:
    """The photo of the request, by its path in the part's folder; its own name is not taken over."""
    kept = catalogue.request_files.get(request.photo or "")
    if kept is None or kept.kind not in _ENDINGS:
        return {}
    return {f"photos/{name}.{_ENDINGS[kept.kind]}": bytes_of(root / kept.path)}


def answer_of(name: str, number: str, root: Path, catalogue: Catalogue) -> AnsweredRequestFile:
    """The request's file with its answer behind everything that stands there. Raises Refusal where only a person can add it."""
    file, w = root / "requests" / f"{name}.yml", wording(catalogue.language)
    try:
        before = file.read_bytes()
        content = with_value(before, "answered_by", number)
    except OSError as error:
        raise disk_refusal(error, "reading", file) from error
    except CannotAppendError as error:
        raise cannot_append(error.problem, file, w) from error
    was, would_be = (asked(read_yaml(file.name, raw)) for raw in (before, content))
    if not isinstance(was, Request) or would_be != was.model_copy(update={"answered_by": number}):
        raise refused("by_machine", file=str(file), lines=f"'answered_by: {number}'")
    return AnsweredRequestFile(file=file, before=before, content=content)
