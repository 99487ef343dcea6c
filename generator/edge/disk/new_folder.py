"""Puts a new part's folder into the catalogue, whole or not at all, and with it the answer of the request it comes from."""

import shutil
from collections.abc import Mapping
from pathlib import Path

from generator.edge.disk import done
from generator.edge.disk.answering import AnsweredRequestFile
from generator.edge.disk.atomic import ChangedMeanwhileError, beside, exchanged_whole
from generator.edge.disk.unbroken import unbroken
from generator.edge.refusals import disk_refusal, refused
from generator.systems.renaming import renamed


def create_folder(folder: Path, files: Mapping[str, bytes], answer: AnsweredRequestFile | None = None) -> None:
    """All files or none: they are written beside and come in by one renaming. Raises Refusal.

    files: by their paths in the folder. answer: what is written behind the request; where it cannot be, the folder goes.
    What commands left beside that were killed goes by `atomic.tidied`, once for many folders.
    """
    if folder.exists() or folder.is_symlink():
        raise refused("there_already", folder=str(folder))
    fresh = beside(folder)
    with unbroken():
        try:
            folder.parent.mkdir(exist_ok=True)
            fresh.mkdir()
            for name, content in files.items():
                (fresh / name).parent.mkdir(exist_ok=True)
                (fresh / name).write_bytes(content)
            renamed(fresh, folder)
            if answer:
                _answered(answer, folder)
            done.wrote(f"{folder} is there" + (f", and {answer.file} says so" if answer else ""))
        except OSError as error:
            raise disk_refusal(error, "writing", folder) from error
        finally:
            shutil.rmtree(fresh, ignore_errors=True)


def _answered(answer: AnsweredRequestFile, folder: Path) -> None:
    try:
        exchanged_whole(answer.file, answer.before, answer.content)
    except ChangedMeanwhileError as error:
        shutil.rmtree(folder)
        raise refused("changed", file=str(answer.file)) from error
    except BaseException:
        shutil.rmtree(folder)
        raise
