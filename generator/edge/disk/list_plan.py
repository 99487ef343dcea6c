"""What a list changes in the catalogue, worked out whole before anything is written: each row is new, there already, or refused."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date
from pathlib import Path

from generator.edge.disk.list_files import OwnFileError, own_content
from generator.geometry.measured import Worked
from generator.geometry.plate import fits_plate
from generator.importing.cells import in_a_comment
from generator.importing.drafts import Draft
from generator.importing.fields import Field
from generator.importing.folders import differences, folder_files, placed
from generator.importing.found_files import FoundFiles
from generator.importing.map_file import ListMap
from generator.importing.one_row import RowAround
from generator.importing.whole_list import ReadList
from generator.pages.wording import wording
from generator.reading.yaml_places import read_yaml
from generator.records.catalogue import Catalogue, PartFolder
from generator.records.problems import Problem, Where, doubt, wrong
from generator.writing.new_part import folder_name

# The column that a key of part.yml comes from, where one alone tells it.
_COLUMN = {
    "revision": Field.REVISION,
    "name": Field.NAME,
    "other_names": Field.OTHER_NAMES,
    "purpose": Field.PURPOSE,
    "symptoms": Field.SYMPTOMS,
    "replaces": Field.OLD_NUMBERS,
    "safety_role": Field.SAFETY_ROLE,
    "material": Field.MATERIAL,
    "makers": Field.MAKERS,
    "yearly_demand": Field.YEARLY_DEMAND,
    "stock": Field.ON_SHELF,
}
_FITS = (Field.FLEET, Field.VEHICLES, Field.PLACE, Field.PER_VEHICLE)
# A size typed by hand and the model's may differ by so much; more is another unit or another part (common practice, no source).
_LIKE = 0.1


@dataclass(frozen=True, slots=True, kw_only=True)
class ListSources:
    """All that a plan is made of."""

    root: Path
    file: str
    listed: ListMap
    around: RowAround
    catalogue: Catalogue
    files: FoundFiles
    models: Mapping[str, Worked | Problem]
    """What was measured of each part's model, or why it cannot be used."""
    on: date
    by: str | None


@dataclass(slots=True)
class ListPlan:
    """What becomes of the rows; `new` holds the files of each folder by its path."""

    read: ReadList
    new: dict[int, tuple[Draft, Path, dict[str, bytes]]] = field(default_factory=dict)
    here: list[Draft] = field(default_factory=list)
    refused: dict[int, tuple[Problem, ...]] = field(default_factory=dict)
    doubts: list[Problem] = field(default_factory=list)
    as_text: list[tuple[int, str]] = field(default_factory=list)
    """Row and folder of the parts that are here and hold an approval of the list as text alone."""

    @property
    def problems(self) -> list[Problem]:
        return [problem for _, problems in sorted(self.refused.items()) for problem in problems]


def planned(read: ReadList, sources: ListSources) -> ListPlan:
    """Each draft with its files, against what lies in the catalogue."""
    plan = ListPlan(read, refused=dict(read.refused))
    folders = {each.folder.rpartition("/")[2].casefold() for each in sources.catalogue.parts}
    by_number = {each.number.casefold(): each for each in sources.catalogue.parts}
    for draft in read.drafts:
        there = by_number.get(draft.number.casefold())
        try:
            content = own_content(draft, sources.files)
        except OwnFileError as error:
            column = error.field if error.field in sources.around.columns else Field.NUMBER  # by which it was found
            plan.refused[draft.row] = (_at(error.problem, draft, column, sources),)
            continue
        if there:
            _compare(draft, there, content, plan, sources)
        else:
            _add(draft, content, folders, plan, sources)
    return plan


def _at(problem: Problem, draft: Draft, field_: Field, sources: ListSources) -> Problem:
    """A problem at the draft's row, in the column of a field."""
    found = sources.around.columns.get(field_)
    heading = found[0][1] if found else None
    told = problem.telling(row=draft.row, column=heading.name if heading else None)
    return told.at(Where(sources.file, draft.row, heading.column + 1 if heading else None))


def _compare(draft: Draft, there: PartFolder, content: Mapping[str, bytes], plan: ListPlan, sources: ListSources) -> None:
    """A part that is there stays as it is; where the list says otherwise, the row is refused."""
    found = []
    record = read_yaml("part.yml", _bytes(sources.root / there.folder / "part.yml")).content
    for key, told, here in differences(draft, record if isinstance(record, dict) else {}):
        problem = wrong("LIST08", "differs", folder=there.folder, key=key, told=told, here=here)
        found.append(_at(problem, draft, _COLUMN.get(key, _fits_column(sources)), sources))
    for name, place in placed(draft, letter=False).items():
        kept = sources.root / there.folder / place
        if _bytes(kept) != content[name]:
            key = "other file" if kept.exists() else "file lacks"
            found.append(_at(wrong("LIST08", key, folder=there.folder, file=place), draft, Field.NUMBER, sources))
    if found:
        plan.refused[draft.row] = tuple(found)
    else:
        plan.here.append(draft)
        _compare_approval(draft, there, plan, sources)


def _compare_approval(draft: Draft, there: PartFolder, plan: ListPlan, sources: ListSources) -> None:
    """What the list says of an approval and the folder holds as text alone, or not at all; a way that was begun holds it."""
    raw = _bytes(sources.root / there.folder / "approval.yml")
    record = read_yaml("approval.yml", raw).content  # one whose route is still TODO is no record yet
    if not draft.approval or (isinstance(record, dict) and record.get("events")):
        return
    kept = raw.decode("utf-8", "replace").splitlines()
    lost = [line for line in draft.approval if f"#   {line}" not in kept]
    if lost:
        plan.doubts.append(_at(doubt("LIST10", "approval not held", folder=there.folder, lost=lost), draft, Field.LETTER_NUMBER, sources))
    else:
        plan.as_text.append((draft.row, there.folder))


def _fits_column(sources: ListSources) -> Field:
    return next((each for each in _FITS if each in sources.around.columns), Field.NUMBER)


def _bytes(file: Path) -> bytes:
    try:
        return file.read_bytes()
    except OSError:
        return b""


def _add(draft: Draft, content: Mapping[str, bytes], folders: set[str], plan: ListPlan, sources: ListSources) -> None:
    name = folder_name(draft.number, draft.name)
    worked = sources.models.get(draft.number)
    if name.casefold() in folders:
        plan.refused[draft.row] = (_at(wrong("LIST08", "folder there", folder=name), draft, Field.NUMBER, sources),)
        return
    if draft.mesh and not isinstance(worked, Worked):
        problem = worked or wrong("LIST09", "unmeasured", file=draft.mesh)
        plan.refused[draft.row] = (problem.telling(row=draft.row).at(Where(draft.mesh, problem.where.line)),)
        return
    measured = ""
    makers: tuple[str, ...] = ()
    if isinstance(worked, Worked):
        measured = " × ".join(f"{side:.1f}" for side in worked.facts.size_mm)
        makers = _makers(draft, worked, sources.catalogue)
        plan.doubts += _other_size(draft, worked, sources)
    files = folder_files(
        draft, content, units=sources.listed.mesh_units, makers=makers, on=sources.on, by=sources.by, measured=measured,
        unconfirmed=_unconfirmed(draft, sources), language=sources.catalogue.language,
    )  # fmt: skip
    plan.new[draft.row] = (draft, sources.root / "parts" / name, files)
    plan.doubts += draft.doubts
    if draft.lacks:
        plan.doubts.append(_at(doubt("LIST10", "approval lacks", lacks=draft.lacks), draft, Field.LETTER_NUMBER, sources))


def _unconfirmed(draft: Draft, sources: ListSources) -> str:
    """What stands above the text of an approval that is not taken over, in the depot's language."""
    return wording(sources.catalogue.language)("importing.unconfirmed", row=str(draft.row), file=in_a_comment(Path(sources.file).name))


def _makers(draft: Draft, worked: Worked, catalogue: Catalogue) -> tuple[str, ...]:
    """Who prints that material and has room for the model, as `spares new` finds them."""
    able = (maker for maker in catalogue.makers.values() if draft.told.get("material") in maker.materials)
    return tuple(maker.id for maker in able if fits_plate(worked.facts.oriented_size_mm, maker.build_volume_mm))


def _other_size(draft: Draft, worked: Worked, sources: ListSources) -> list[Problem]:
    told, model = sorted(draft.size_mm), sorted(worked.facts.size_mm)
    if not told or all(abs(one - other) <= max(1.0, _LIKE * other) for one, other in zip(told, model, strict=True)):
        return []
    listed, measured = (" × ".join(f"{side:g}" for side in sides) for sides in (told, (round(each, 1) for each in model)))
    return [_at(doubt("LIST10", "other size", told=listed, measured=measured), draft, Field.SIZE, sources)]
