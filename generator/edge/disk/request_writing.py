"""What adding a request file changes in the catalogue, worked out whole before anything is written."""

import re
from collections.abc import Mapping
from dataclasses import dataclass, replace
from pathlib import Path

from generator.edge.disk import done
from generator.edge.disk.atomic import ChangedMeanwhileError, created_whole, exchanged_whole, tidied
from generator.edge.disk.query_files import QueryFile, known_as, query_file
from generator.edge.disk.read_whole import bytes_of
from generator.edge.disk.recording import cannot_append
from generator.edge.disk.request_files import Incoming
from generator.edge.disk.unbroken import unbroken
from generator.edge.refusals import disk_refusal, refused
from generator.pages.problems.said import said
from generator.pages.wording import Wording, wording
from generator.reading.requests import asked
from generator.reading.yaml_places import read_yaml
from generator.records.catalogue import Catalogue
from generator.records.mesh_units import MeshUnits
from generator.records.queries import Queries
from generator.records.requests import AddedVoice, Request, Wanted
from generator.writing.appending import CannotAppendError, with_entry
from generator.writing.yaml_text import Value, mapping_lines

_NUMBER = re.compile(r"R-(\d{1,6})")


@dataclass(frozen=True, slots=True, kw_only=True)
class GivenModel:
    """A model that somebody named beside a request's file, and its unit where the file carries none."""

    ending: str
    content: bytes
    units: MeshUnits | None


@dataclass(frozen=True, slots=True, kw_only=True)
class FileChange:
    """A file of requests/ as it will be. `before` is None for a new file, else the bytes that it must still have."""

    number: str
    file: str
    told: str
    shown: str
    asked: Request | AddedVoice
    before: bytes | None
    content: bytes
    photo: bytes | None = None
    model: GivenModel | None = None
    moved: Path | None = None
    """The file that lay in requests/ by hand and goes when its content has its place."""
    queries: QueryFile | None = None
    """What was looked for in vain on that tablet, where it is not collected yet."""


def changes(read: list[Incoming], root: Path, catalogue: Catalogue, model: GivenModel | None = None) -> list[FileChange]:
    """One change for each file, in their order; new requests take the next numbers.

    model: of the one request that is read.
    Raises Refusal for what is in the catalogue already, or comes twice.
    """
    next_number = _highest(root, catalogue) + 1
    planned: list[FileChange] = []
    for each in read:
        if isinstance(each.asked, AddedVoice):
            planned.append(_voice(each, each.asked, root, planned, wording(catalogue.language)))
        elif each.asked:
            _refuse_known(each, each.asked, catalogue, planned)
            if _is_numbered(each):
                planned.append(_with_its_files(each, each.asked, model))
                continue
            planned.append(_request(each, each.asked, f"R-{next_number:04d}", model))
            next_number += 1
    return _with_queries(planned, root, catalogue)


def _with_queries(planned: list[FileChange], root: Path, catalogue: Catalogue) -> list[FileChange]:
    """The changes, each with the list that its tablet sent along; a list that comes twice stays with the first."""
    seen: set[str] = set()
    together = []
    for change in planned:
        asked, made = change.asked, None
        if asked.looked_for:
            listed = Queries(collected=asked.on, with_request=change.number, looked_for=asked.looked_for)
            file = query_file(listed)
            made = None if file.file in seen or known_as(listed, catalogue, root) else file
            seen.add(file.file)
        together.append(replace(change, queries=made))
    return together


def _highest(root: Path, catalogue: Catalogue) -> int:
    """The highest number that any file has or any voice names: a number is never given twice."""
    names = {*catalogue.requests, *(voice.adds_to for voice in catalogue.request_voices.values())}
    for folder in (root / "requests", root / "requests" / "photos", root / "requests" / "models"):
        names |= {file.stem for file in folder.iterdir()} if folder.is_dir() else set()
    return max((int(found[1]) for name in names if (found := _NUMBER.fullmatch(name))), default=0)


def _is_numbered(each: Incoming) -> bool:
    return each.lies_inside and _NUMBER.fullmatch(each.file.stem) is not None


def _with_its_files(each: Incoming, request: Request, model: GivenModel | None) -> FileChange:
    """A request that has its number and place already: only its photo, its model and what was looked for become files."""
    if each.photo is None and not request.looked_for and model is None:
        raise refused("numbered", file=str(each.file))
    before = bytes_of(each.file)
    change = _request(each, request, each.file.stem, model)
    return replace(change, before=before, moved=None)


def _request(each: Incoming, request: Request, number: str, model: GivenModel | None) -> FileChange:
    photo = f"photos/{number}.jpg" if each.photo else None
    if model:
        request = request.model_copy(update={"model": f"models/{number}.{model.ending}", "model_units": model.units})
    text = "\n".join(mapping_lines(request_lines(request, photo))) + "\n"
    return FileChange(
        number=number,
        file=f"requests/{number}.yml",
        told=request.name,
        shown=text,
        asked=request,
        before=None,
        content=text.encode("utf-8"),
        photo=each.photo,
        model=model,
        moved=each.file if each.lies_inside else None,
    )


def request_lines(request: Request, photo: str | None) -> Mapping[str, Value]:
    """The record as plain values in the order of its keys, without what is left at its default."""
    plain = request.model_dump(mode="json", exclude_defaults=True, exclude={"lines", "photo_data", "looked_for"})
    plain["sizes_mm"] = [_short(side) for side in sorted(request.sizes_mm, reverse=True)]
    plain["yearly_demand"] = _short(request.yearly_demand)
    plain |= {"photo": photo} if photo else {}
    order = [key for key in Request.model_fields if plain.get(key) not in (None, [])]
    return {key: plain[key] for key in order}


def _short(number: float) -> float:
    return int(number) if number == int(number) else number


def _refuse_known(each: Incoming, request: Request, catalogue: Catalogue, planned: list[FileChange]) -> None:
    others = {
        name: one
        for name, one in catalogue.requests.items()
        if not (each.lies_inside and name == each.file.stem)
    }
    others |= {change.number: change.asked for change in planned if isinstance(change.asked, Request)}
    same = [name for name, one in others.items() if _essence(one) == _essence(request)]
    if same:
        raise refused("in_catalogue", file=str(each.file), name=same[0])


def _essence(request: Request) -> Request:
    unsaid: dict[str, object] = {"also_wanted": (), "looked_for": ()}
    unsaid |= dict.fromkeys(("lines", "photo", "photo_data", "model", "model_units", "answered_by"))
    sizes = tuple(sorted(request.sizes_mm, reverse=True))
    return request.model_copy(update=unsaid | {"sizes_mm": sizes})


def _voice(each: Incoming, voice: AddedVoice, root: Path, planned: list[FileChange], w: Wording) -> FileChange:
    file = f"requests/{voice.adds_to}.yml"
    earlier = [change for change in planned if change.file == file]
    try:
        before = earlier[-1].content if earlier else (root / file).read_bytes()
    except OSError as error:
        raise disk_refusal(error, "reading", root / file) from error
    wanted = Wanted(on=voice.on, by=voice.by, yearly_demand=voice.yearly_demand, note=voice.note)
    if wanted in _record(file, before, w).also_wanted:
        raise refused("voice_there", file=str(each.file), name=voice.adds_to)
    entry = wanted.model_dump(mode="json", exclude_none=True) | {"yearly_demand": _short(voice.yearly_demand)}
    try:
        appended = with_entry(before, "also_wanted", entry)
    except CannotAppendError as error:
        raise cannot_append(error.problem, root / file, w) from error
    if _record(file, appended.content, w).also_wanted[-1:] != (wanted,):
        raise refused("by_machine", file=str(root / file), lines=w("commands.refused.voice"))
    return FileChange(
        number=voice.adds_to,
        file=file,
        told="one voice more",
        shown=appended.added,
        asked=voice,
        before=before,
        content=appended.content,
        moved=each.file if each.lies_inside else None,
    )


def _record(file: str, raw: bytes, w: Wording) -> Request:
    source = read_yaml(file, raw)
    found = asked(source)
    if not isinstance(found, Request):
        raise refused("not_a_request", file=file, why="; ".join(said(problem, w).says for problem in source.problems))
    return found


def write_change(change: FileChange, root: Path) -> None:
    """Write one change: photo and model first, for a request without them would be a mistake. Raises Refusal."""
    file, beside = root / change.file, _beside(change, root)
    for folder in {file.parent, *(each.parent for each in beside)}:
        tidied(folder)
    try:
        with unbroken():
            _put(change, file, beside)
            done.wrote(f"{file} is written")
            if change.moved:
                change.moved.unlink()
    except ChangedMeanwhileError as error:
        raise refused("changed", file=str(file)) from error
    except FileExistsError as error:
        raise refused("there_meanwhile", file=str(error.filename2 or error.filename)) from error
    except OSError as error:
        raise disk_refusal(error, "writing", file) from error


def _beside(change: FileChange, root: Path) -> dict[Path, bytes]:
    """The new files that a change brings besides its own."""
    files: dict[Path, bytes] = {}
    if change.photo:
        files[root / "requests" / "photos" / f"{change.number}.jpg"] = change.photo
    if change.model:
        files[root / "requests" / "models" / f"{change.number}.{change.model.ending}"] = change.model.content
    if change.queries:
        files[root / change.queries.file] = change.queries.text.encode("utf-8")
    return files


def _put(change: FileChange, file: Path, beside: Mapping[Path, bytes]) -> None:
    file.parent.mkdir(exist_ok=True)
    made: list[Path] = []
    try:
        for place, content in beside.items():
            place.parent.mkdir(exist_ok=True)
            created_whole(place, content)
            made.append(place)
        exchanged_whole(file, change.before, change.content)
    except (OSError, ChangedMeanwhileError):
        for place in made:
            place.unlink(missing_ok=True)
        raise
