"""A request file from outside: whatever stands in it, it is a request, a voice, or a list of its mistakes."""

from dataclasses import dataclass, field
from datetime import date
from pathlib import Path

from generator.measuring.guarded import Done, Guard, Limits
from generator.reading.crosschecks import check_asked
from generator.reading.disk import megabytes
from generator.reading.photos import cleaned_photo
from generator.reading.requests import asked
from generator.reading.yaml_places import LARGEST_FILE_BYTES, YamlFile, read_yaml
from generator.records.catalogue import Catalogue
from generator.records.problems import Problem, in_order, wrong
from generator.records.requests import AddedVoice, Request

# Drawing one photo anew takes a tenth of a second; a file that wants more is none.
_PHOTO_LIMITS = Limits(seconds=20, memory_mb=2048)


@dataclass(frozen=True, slots=True, kw_only=True)
class Incoming:
    """A file as read. `lies_inside`: it was dropped into requests/ by hand and is to be moved to its number."""

    file: Path
    lies_inside: bool
    source: YamlFile
    asked: Request | AddedVoice | None
    photo: bytes | None = None
    problems: tuple[Problem, ...] = field(default=())


def incoming(file: Path, root: Path, catalogue: Catalogue, today: date) -> Incoming:
    """Read and check one file; every mistake is in its problems, with the file as it was named."""
    source = read_from_outside(file)
    lies_inside = _lies_in(file, root / "requests")
    found = asked(source)
    photo = None
    if found:
        source.problems += check_asked(found, source, catalogue)
        _check_day(found, source, today)
        _check_model(found, source, lies_inside=lies_inside)
        photo = _photo(found, source, lies_inside=lies_inside)
    return Incoming(
        file=file,
        lies_inside=lies_inside,
        source=source,
        asked=found,
        photo=photo,
        problems=in_order(source.problems),
    )


def _lies_in(file: Path, folder: Path) -> bool:
    try:
        return file.resolve().parent == folder.resolve()
    except (OSError, RuntimeError):  # a name too long, or links in a ring: told where it is read
        return False


def read_from_outside(file: Path) -> YamlFile:
    """Any file that somebody names, with what speaks against reading it in its problems."""
    name = file.as_posix()
    source = YamlFile(name)
    try:
        if not file.is_file():
            source.add(None, wrong("DISK02", "no file" if file.exists() else "not there", "name the file"))
            return source
        if file.stat().st_size > LARGEST_FILE_BYTES:
            size = file.stat().st_size
            source.add(None, wrong("DISK03", "too large", "smaller photo", megabytes=megabytes(size)))
            return source
        return read_yaml(name, file.read_bytes())
    except OSError as error:
        reason = (error.strerror or type(error).__name__).lower()
        source.add(None, wrong("DISK02", "unreadable", "may be read", reason=reason))
        return source


def _check_day(found: Request | AddedVoice, source: YamlFile, today: date) -> None:
    if found.on > today:
        _add(source, "on", wrong("REQ03", "to come", on=found.on))


def _check_model(found: Request | AddedVoice, source: YamlFile, *, lies_inside: bool) -> None:
    if isinstance(found, Request) and found.model and not lies_inside:
        _add(source, "model", wrong("REQ06", "not with it", model=found.model))


def _photo(found: Request | AddedVoice, source: YamlFile, *, lies_inside: bool) -> bytes | None:
    """The photo drawn anew in a child process, for no picture from outside is trusted with this one."""
    if not isinstance(found, Request):
        return None
    if found.photo and not lies_inside:
        _add(source, "photo", wrong("REQ04", "no photo", photo=found.photo))
    if found.photo_data is None:
        return None
    with Guard(workers=1, limits=_PHOTO_LIMITS) as children:
        (ended,) = children.run_all(cleaned_photo, [found.photo_data])
    if isinstance(ended, Done) and isinstance(ended.value, bytes):
        return ended.value
    failed = ended.value if isinstance(ended, Done) else wrong("REQ05", "undrawn")
    if isinstance(failed, Problem):
        _add(source, "photo_data", failed)
    return None


def _add(source: YamlFile, key: str, problem: Problem) -> None:
    source.problems.append(problem.at(source.where((key,))))
