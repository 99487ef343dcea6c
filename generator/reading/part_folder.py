"""One folder under parts/ → the part with its approval, notes, mesh file, documents and problems."""

from collections.abc import Iterator
from dataclasses import dataclass, field
from functools import lru_cache

from generator.reading.disk import Disk
from generator.reading.letter_text import Reads, read_of
from generator.reading.line_ends import line_ends_changed
from generator.reading.meshes.endings import MESH_ENDINGS
from generator.reading.notes_bounds import too_much
from generator.reading.strays import leads_elsewhere, strays
from generator.reading.untaken import untaken
from generator.reading.validating import record
from generator.reading.yaml_places import YamlFile
from generator.records.approvals import Approval, TakenOver, TakeOverConfirmed
from generator.records.catalogue import KeptFile, PartFolder
from generator.records.fitting import FittingNotes
from generator.records.parts import Part
from generator.records.problems import Problem, Where, doubt, in_order, wrong

RECORDS = ("part.yml", "approval.yml", "fitting.md")
KNOWN_FILES = (*RECORDS, "documents", "photos")


@dataclass(slots=True)
class ReadFolder:
    """A part's folder as read, with the places of what its files say, so that later checks can point there."""

    folder: str
    number: str
    part: Part | None
    approval: Approval | None
    fitting: FittingNotes | None
    mesh: KeptFile | None
    documents: tuple[KeptFile, ...]
    photos: tuple[KeptFile, ...]
    part_yml: YamlFile
    approval_yml: YamlFile | None
    problems: list[Problem]
    has_fitting: bool = True
    unread_letters: dict[str, Reads] = field(default_factory=dict)
    """Letters that were taken over, and papers that confirm them, of which a program reads nothing or too little, by their paths in the folder."""
    strange_photos: tuple[str, ...] = ()
    """Files in photos/ that are no whole pictures of a kind that is shown."""

    def add(self, where: Where, problem: Problem) -> None:
        self.problems.append(problem.at(where))

    def _event_places(self) -> tuple[Where, ...]:
        events = self.approval.events if self.approval else ()
        source = self.approval_yml
        return tuple(source.where(("events", index)) for index in range(len(events))) if source else ()

    def closed(self) -> PartFolder:
        return PartFolder(
            folder=self.folder,
            number=self.number,
            part=self.part,
            approval=self.approval,
            fitting=self.fitting,
            mesh=self.mesh,
            documents=self.documents,
            photos=self.photos,
            event_places=self._event_places(),
            problems=in_order(self.problems),
        )


def read_part_folder(disk: Disk, folder: str) -> ReadFolder:
    """Read parts/<number>-<slug>; whatever is wrong is in the result's problems, and nothing is raised."""
    names = disk.names(folder)
    part_yml = disk.yaml(f"{folder}/part.yml")
    part = record(Part, part_yml)
    approval_yml = disk.yaml(f"{folder}/approval.yml") if "approval.yml" in names else None
    found = ReadFolder(
        folder=folder,
        number=part.number if part else _number_of(folder, part_yml),
        part=part,
        approval=record(Approval, approval_yml) if approval_yml else None,
        fitting=_fitting(disk, folder) if "fitting.md" in names else None,
        mesh=None,
        documents=_files(disk, folder, "documents"),
        photos=_files(disk, folder, "photos"),
        part_yml=part_yml,
        approval_yml=approval_yml,
        problems=[],
        has_fitting="fitting.md" in names,
    )
    found.strange_photos = tuple(photo.path for photo in found.photos if not photo.kind.is_picture)
    found.unread_letters = dict(_unread_letters(disk, found))
    found.mesh = _mesh(disk, found, names)
    found.problems += _untaken(disk, found)
    found.problems += line_ends_changed(disk, (found.mesh, *found.documents), approval_yml)
    found.problems += strays(disk, folder)
    found.problems += filter(None, (leads_elsewhere(disk, folder, name) for name in RECORDS))
    _add_strangers(found, names)
    found.problems += part_yml.problems + (approval_yml.problems if approval_yml else []) + disk.taken()
    return found


def _untaken(disk: Disk, found: ReadFolder) -> Iterator[Problem]:
    is_read = found.approval_yml is not None and found.approval_yml.content is not None
    raw = disk.raw(f"{found.folder}/approval.yml") if is_read else None
    if found.approval_yml and raw is not None:
        yield from untaken(found.approval_yml, raw)


def _unread_letters(disk: Disk, found: ReadFolder) -> Iterator[tuple[str, Reads]]:
    there = {file.path for file in found.documents}
    for event in found.approval.events if found.approval else ():
        for each in event.evidence if isinstance(event, TakenOver | TakeOverConfirmed) else ():
            path = f"{found.folder}/{each.file}"
            content = disk.letter(path) if path in there else None
            reads = Reads.TEXT if content is None else read_of(each.file, content)
            if reads is not Reads.TEXT:
                yield each.file, reads


def _number_of(folder: str, part_yml: YamlFile) -> str:
    """The number of a part whose record cannot be read: as its file says it, else as the folder says it."""
    content = part_yml.content
    said = content.get("number") if isinstance(content, dict) else None
    name = folder.rsplit("/", 1)[-1]
    if isinstance(said, str) and name.upper().startswith(said.upper()):
        return said
    pieces = name.split("-")
    digits = next(
        (i for i, piece in enumerate(pieces) if any(sign.isdigit() for sign in piece)), len(pieces) - 1
    )
    return "-".join(pieces[: digits + 1]).upper()


def _fitting(disk: Disk, folder: str) -> FittingNotes | None:
    raw = disk.raw(f"{folder}/fitting.md")
    if raw is None:
        return None
    try:
        text = raw.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = raw[: error.start].count(b"\n") + 1
        disk.problems.append(wrong("FIT01", "not UTF-8", where=Where(f"{folder}/fitting.md", line)))
        return None
    notes, beyond = _notes(text)
    if beyond:
        disk.problems.append(beyond.at(Where(f"{folder}/fitting.md", beyond.where.line)))
    return notes


@lru_cache(256)
def _notes(text: str) -> tuple[FittingNotes | None, Problem | None]:
    """As records, the notes of one text are the same ones whenever they are read again."""
    beyond = too_much(text)
    return (None, beyond) if beyond else (FittingNotes.from_markdown(text), None)


def _files(disk: Disk, folder: str, inside: str) -> tuple[KeptFile, ...]:
    """The files of documents/ or photos/; what lies there and is not read is said."""
    where = f"{folder}/{inside}"
    if disk.is_there(where) and not disk.is_folder(where):
        disk.add(where, doubt("FOLD02", "no folder", inside=inside))
    for name in disk.hidden(where):
        disk.add(f"{where}/{name}", doubt("FOLD03", "hidden"))
    names = disk.names(where)
    for name in names:
        if disk.is_folder(f"{where}/{name}"):
            disk.add(f"{where}/{name}", doubt("FOLD02", "folder inside", inside=inside))
    kept = (disk.kept(f"{where}/{name}") for name in names if not disk.is_folder(f"{where}/{name}"))
    return tuple(file for file in kept if file)


def _mesh(disk: Disk, found: ReadFolder, names: list[str]) -> KeptFile | None:
    models = [name for name in names if name.startswith("model.")]
    if _says_none(found.part_yml):
        if models:
            where = found.part_yml.where(("no_model",), key=True)
            found.add(where, wrong("MESH05", "model and none", models=models))
        return None
    usable = [name for name in models if name.rsplit(".", 1)[-1].lower() in MESH_ENDINGS]
    if len(usable) > 1:
        found.add(Where(f"{found.folder}/{usable[1]}"), wrong("MESH02", "second model", first=usable[0]))
        return None
    if not usable:
        key = "unread kind" if models else "none"
        found.add(Where(found.folder), wrong("MESH01", key, "put", models=models, endings=MESH_ENDINGS[1:]))
        return None
    return disk.kept(f"{found.folder}/{usable[0]}")


def _says_none(part_yml: YamlFile) -> bool:
    """Whether part.yml says that there is no model, also where it cannot be read as a whole."""
    return isinstance(part_yml.content, dict) and part_yml.content.get("no_model") is not None


def _add_strangers(found: ReadFolder, names: list[str]) -> None:
    told = {problem.where.file for problem in found.problems if problem.code == "FOLD04"}
    for name in names:
        is_model = name.startswith("model.") and (found.mesh is None or f"{found.folder}/{name}" == found.mesh.path)
        if name in KNOWN_FILES or is_model or f"{found.folder}/{name}" in told:
            continue
        meant = next(
            (known for known in KNOWN_FILES if known.split(".")[0] == name.split(".")[0].lower()), None
        )
        where = Where(f"{found.folder}/{name}")
        found.add(where, doubt("FOLD01", "in part", "rename" if meant else "move", meant=meant))
