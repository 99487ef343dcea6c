"""A depot's list, its map and the folder beside them, as files: read whole and guarded, never written to but for a new map."""

import hashlib
from collections.abc import Iterable, Mapping
from pathlib import Path

from generator.edge.refusals import reason_of, refused
from generator.geometry.measured import Worked
from generator.importing.any_list import LARGEST_LIST_BYTES, SPREADSHEETS, TEXTS, ListFile, tables_in
from generator.importing.cells import CellError
from generator.importing.drafts import Draft
from generator.importing.fields import Field
from generator.importing.found_files import FoundFiles, content_of
from generator.importing.map_file import ListMap
from generator.importing.tables import Table
from generator.measuring.all_meshes import Progress, worked_on
from generator.measuring.guarded import Done, Guard, Limits, TooBig, TooLong
from generator.measuring.one_mesh import Order
from generator.reading.meshes.endings import UNITLESS_ENDINGS
from generator.reading.meshes.errors import MeshError
from generator.reading.meshes.file import mesh_bytes
from generator.records.catalogue import Catalogue
from generator.records.materials import UNCOLOURED
from generator.records.problems import Problem, wrong
from generator.systems.renaming import may_be_held_open
from generator.systems.store import Store

# 20,000 rows of a hundred columns take a third of it.
_LIMITS = Limits(seconds=60, processor_s=60, memory_mb=1500)


def read_tables(file: Path, listed: ListMap | None, encoding: str | None) -> tuple[Table, ...] | Problem:
    """The tables of a list, read in a child process that no list can hang or fill."""
    ending = file.suffix.lower().removeprefix(".")
    if ending not in (*TEXTS, *SPREADSHEETS):
        return wrong("LIST01", "other kind", ending=file.suffix or "none", endings=(*SPREADSHEETS, *TEXTS))
    if "~$" in file.name:
        return wrong("LIST01", "open elsewhere")
    try:
        if not file.is_file():
            return wrong("LIST01", "no file" if file.exists() else "not there")
        size = file.stat().st_size
        if size > LARGEST_LIST_BYTES:
            return wrong("LIST01", "too large", megabytes=round(size / 1e6), most=round(LARGEST_LIST_BYTES / 1e6))
        content = file.read_bytes()
    except OSError as error:
        return wrong("LIST01", "unreadable", reason=_reason(error))
    letters = encoding or (listed.encoding if listed else None)
    job = ListFile(content=content, ending=ending, encoding=letters, delimiter=listed.delimiter if listed else None)
    return read_in_a_child(job)


def _reason(error: OSError) -> str:
    return reason_of(error) if may_be_held_open(error) else (error.strerror or type(error).__name__).lower()


def read_in_a_child(job: ListFile) -> tuple[Table, ...] | Problem:
    """What no list can hang, crash or fill with more than a part of the memory."""
    with Guard(workers=1, limits=_LIMITS) as children:
        (ended,) = children.run_all(tables_in, [job])
    if isinstance(ended, Done):
        return ended.value
    return wrong("LIST02", "too much work") if isinstance(ended, TooLong | TooBig) else wrong("LIST02", "broken")


def model_orders(
    drafts: Iterable[Draft], files: FoundFiles, listed: ListMap, catalogue: Catalogue
) -> tuple[dict[str, Order], dict[str, Problem]]:
    """What is to be measured, by part number, and the models that cannot even be opened."""
    orders: dict[str, Order] = {}
    unread: dict[str, Problem] = {}
    for draft in drafts:
        if draft.mesh is None:
            continue
        path = files.path(draft.mesh)
        units = listed.mesh_units if draft.mesh.rpartition(".")[2].lower() in UNITLESS_ENDINGS else None
        try:
            digest = hashlib.sha256(mesh_bytes(path)).hexdigest()
        except MeshError as error:
            unread[draft.number] = error.problem
            continue
        material = catalogue.materials.get(str(draft.told.get("material")))
        orders[draft.number] = Order(path=path, sha256=digest, units=units, tint=material.colour if material else UNCOLOURED)
    return orders, unread


def measured(orders: Mapping[str, Order], store: Store, report: Progress) -> dict[str, Worked | Problem]:
    """Every model, measured in guarded child processes."""
    if not orders:
        return {}
    with Guard() as children:
        return worked_on(orders, store, report, children)


class OwnFileError(CellError):
    """A file of the draft cannot be taken; it carries the column that tells of such files."""

    def __init__(self, problem: Problem, field: Field) -> None:
        super().__init__(problem)
        self.field = field


def own_content(draft: Draft, files: FoundFiles) -> dict[str, bytes]:
    """The bytes of everything that the draft takes along, by its path in the folder of files. Raises OwnFileError."""
    of_field = dict.fromkeys((*draft.documents, *draft.photos), Field.DOCUMENTS)
    if draft.letter:
        of_field[draft.letter.file] = Field.LETTER_FILE
    found = {}
    for name, field in of_field.items():
        try:
            found[name] = content_of(files.path(name))
        except CellError as error:
            raise OwnFileError(error.problem, field) from error
    if draft.mesh:
        try:
            found[draft.mesh] = mesh_bytes(files.path(draft.mesh))
        except MeshError as error:
            raise OwnFileError(error.problem, Field.MESH_FILE) from error
    return found


def lies_inside(file: Path, root: Path) -> bool:
    """Whether a file lies, or would lie, in the catalogue."""
    try:
        return root.resolve() in file.resolve().parents
    except (OSError, RuntimeError) as error:
        raise refused("leads_nowhere", file=str(file)) from error
