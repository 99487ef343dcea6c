"""A request file from outside: whatever stands in it, it is a request, a voice, or a list of its mistakes."""

from dataclasses import dataclass, field
from datetime import date
from pathlib import Path

from generator.measuring.guarded import Done, Guard, Limits
from generator.reading.crosschecks import check_asked
from generator.reading.photos import PhotoError, cleaned_photo
from generator.reading.requests import asked
from generator.reading.yaml_places import LARGEST_FILE_BYTES, Written
from generator.reading.yaml_places import written as read_yaml
from generator.records.catalogue import Catalogue
from generator.records.problems import Problem, in_order
from generator.records.requests import AddedVoice, Request

# Drawing one photo anew takes a tenth of a second; a file that wants more is none.
_PHOTO_LIMITS = Limits(seconds=20, memory_mb=2048)


@dataclass(frozen=True, slots=True, kw_only=True)
class Incoming:
    """A file as read. `lies_inside`: it was dropped into requests/ by hand and is to be moved to its number."""

    file: Path
    lies_inside: bool
    source: Written
    asked: Request | AddedVoice | None
    photo: bytes | None = None
    problems: tuple[Problem, ...] = field(default=())


def incoming(file: Path, root: Path, catalogue: Catalogue, today: date) -> Incoming:
    """Read and check one file; every mistake is in its problems, with the file as it was named."""
    source = _read(file)
    lies_inside = _lies_in(file, root / "requests")
    found = asked(source)
    photo = None
    if found:
        source.problems += check_asked(found, source, catalogue)
        _check_day(found, source, today)
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


def _read(file: Path) -> Written:
    name = file.as_posix()
    source = Written(name)
    try:
        if not file.is_file():
            says = "is no file" if file.exists() else "is not there"
            source.add("DISK02", None, says, "name the request file that the tablet made")
            return source
        if file.stat().st_size > LARGEST_FILE_BYTES:
            says = f"is {file.stat().st_size / 1e6:,.1f} MB large"
            source.add("DISK03", None, says, "a request is below 1 MB; send a smaller photo")
            return source
        return read_yaml(name, file.read_bytes())
    except OSError as error:
        reason = (error.strerror or type(error).__name__).lower()
        source.add("DISK02", None, f"cannot be read: {reason}", "check that the file may be read")
        return source


def _check_day(found: Request | AddedVoice, source: Written, today: date) -> None:
    if found.on > today:
        says = f"is dated {found.on.isoformat()}, which is still to come"
        _add(source, "REQ03", "on", says, "the tablet's clock was wrong; write the day on which it was asked")


def _photo(found: Request | AddedVoice, source: Written, *, lies_inside: bool) -> bytes | None:
    """The photo drawn anew in a child process, for no picture from outside is trusted with this one."""
    if not isinstance(found, Request):
        return None
    if found.photo and not lies_inside:
        fix = "take 'photo' out; a photo travels inside the file as 'photo_data'"
        _add(source, "REQ04", "photo", f"names the photo {found.photo}, which did not come with it", fix)
    if found.photo_data is None:
        return None
    with Guard(workers=1, limits=_PHOTO_LIMITS) as children:
        (ended,) = children.run_all(cleaned_photo, [found.photo_data])
    if isinstance(ended, Done) and isinstance(ended.value, bytes):
        return ended.value
    wrong = ended.value if isinstance(ended, Done) else PhotoError("cannot be drawn", "take the photo again")
    if isinstance(wrong, PhotoError):
        _add(source, "REQ05", "photo_data", f"photo_data {wrong.says}", wrong.fix)
    return None


def _add(source: Written, code: str, key: str, says: str, fix: str) -> None:
    source.problems.append(Problem(code=code, where=source.where((key,)), says=says, fix=fix))
