"""A built site as one zip file that opens from a stick: the same site gives the same bytes."""

import io
import zipfile
from contextlib import suppress
from pathlib import Path

from generator.edge.disk import done
from generator.edge.disk.atomic import beside, tidied
from generator.edge.disk.swapping import MARKER
from generator.edge.disk.unbroken import unbroken
from generator.edge.refusals import Ending, disk_refusal, refused
from generator.reading.meshes.endings import PACKED_ENDINGS
from generator.systems.renaming import replaced

# The first moment that a zip file can tell (APPNOTE 4.4.6: MS-DOS date), so that no clock stands in it.
_NO_TIME = (1980, 1, 1, 0, 0, 0)
_PLAIN_FILE = 0o100644 << 16
_ON_UNIX = 3
# Deflating what is compressed already takes time and saves nothing.
_COMPRESSED = ("webp", "png", "jpg", "jpeg", "gz", "zip", "pdf", "woff2", *PACKED_ENDINGS)


def zipped(site: Path, target: Path) -> int:
    """Write the folder `site` to the file `target`, inside a folder of the zip's name; returns its size in bytes.

    The file is there whole or not at all. Raises Refusal where the disk does not allow it.
    """
    _refuse_stranger(target)
    tidied(target.parent)
    fresh = beside(target)
    try:
        with zipfile.ZipFile(fresh, "w") as archive:
            for file in sorted(site.rglob("*"), key=lambda each: each.relative_to(site).as_posix()):
                if file.is_file():
                    archive.writestr(_entry(target.stem, file.relative_to(site)), file.read_bytes())
        size = fresh.stat().st_size
        with unbroken():
            replaced(fresh, target)
            done.wrote(f"{target} is written")
    except OSError as error:
        raise disk_refusal(error, "writing", target) from error
    finally:
        with suppress(OSError):
            fresh.unlink(missing_ok=True)
    return size


def packed(file: Path, name: str) -> bytes:
    """One file alone in a zip, under a name without any folder. Raises OSError where it cannot be read."""
    held = io.BytesIO()
    with zipfile.ZipFile(held, "w") as archive:
        archive.writestr(_at(name.replace("\\", "_").replace("/", "_"), file.suffix), file.read_bytes())
    return held.getvalue()


def _refuse_stranger(target: Path) -> None:
    """Only a zip that spares made is replaced; it holds the marker of a built site."""
    if not target.exists():
        return
    try:
        with zipfile.ZipFile(target) as old:
            is_ours = any(name.rpartition("/")[2] == MARKER for name in old.namelist())
    except (zipfile.BadZipFile, OSError):
        is_ours = False
    if not is_ours:
        raise refused("zip_taken", Ending.MISUSE, file=str(target))


def _entry(folder: str, file: Path) -> zipfile.ZipInfo:
    return _at(f"{folder}/{file.as_posix()}", file.suffix)


def _at(path: str, ending: str) -> zipfile.ZipInfo:
    entry = zipfile.ZipInfo(path, _NO_TIME)
    entry.compress_type = zipfile.ZIP_STORED if ending.lower().removeprefix(".") in _COMPRESSED else zipfile.ZIP_DEFLATED
    entry.external_attr, entry.create_system = _PLAIN_FILE, _ON_UNIX
    return entry
