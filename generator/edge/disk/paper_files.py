"""Papers and tables for people go where somebody asks for them: whole or not at all, and never among the records."""

from pathlib import Path

from generator.edge.disk import done
from generator.edge.disk.atomic import created_whole, written_whole
from generator.edge.disk.unbroken import unbroken
from generator.edge.refusals import Ending, disk_refusal, refused


def may_be_written(file: Path, root: Path) -> None:
    """Raises Refusal: papers are no record, and a file among a part's documents would change what was approved."""
    if file.suffix.lower() != ".pdf":
        raise refused("no_pdf", Ending.MISUSE, file=str(file))
    lies_outside(file, root)


def lies_outside(file: Path, root: Path) -> None:
    """Raises Refusal where it would lie in the catalogue, or in a folder that there is not."""
    folder_is_there(file)
    if file.resolve().is_relative_to(root.resolve()):
        raise refused("paper_in_catalogue", Ending.MISUSE, file=str(file))


def folder_is_there(file: Path) -> None:
    """Raises Refusal where its folder is not: none is made, for a slip would make one, too."""
    if not file.parent.is_dir():
        raise refused("paper_no_folder", Ending.MISUSE, folder=str(file.parent), file=file.name)


def write_paper(file: Path, content: bytes, *, force: bool) -> None:
    """Whole or not at all; another file only with `force`. Raises Refusal."""
    try:
        with unbroken():
            (written_whole if force else created_whole)(file, content)
            done.wrote(f"{file} is written")
    except FileExistsError:
        raise refused("file_there", file=str(file)) from None
    except OSError as error:
        raise disk_refusal(error, "writing", file) from error
