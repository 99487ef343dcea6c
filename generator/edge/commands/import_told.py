"""What `spares import` says: what it understood of a list, what becomes of each row, and the sum."""

from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

from generator.edge.commands.terminal import Terminal
from generator.edge.disk.list_plan import ListPlan, ListSources
from generator.importing.drafts import TODO, Draft
from generator.importing.fields import Field
from generator.importing.first_row import data_in, known_count
from generator.importing.headings import Headings
from generator.importing.proposal import Understood
from generator.importing.tables import CellKind, Table, column_letters
from generator.importing.whole_list import rows_below
from generator.pages.wording import Wording
from generator.records.catalogue import Catalogue
from generator.records.depot import Language
from generator.records.problems import Problem

_MOST_NAMED = 20
# What one line of the map, or --files, mends in all rows: told whole so often.
_MOST_ALIKE = 3
_ONE_MEND = frozenset({"made a number", "decimal unsaid", "unit unsaid", "day or month", "no folder"})
_SIGNS = {"\t": "tab"}
# What a part cannot be written without being asked about.
_WANTED = (
    Field.NUMBER, Field.NAME, Field.REVISION, Field.PURPOSE, Field.FLEET, Field.VEHICLES, Field.PLACE, Field.PER_VEHICLE,
    Field.SAFETY_ROLE, Field.MATERIAL,
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class FoundList:
    """The list as it was read."""

    file: Path
    tables: tuple[Table, ...]
    table: Table
    """The one that counts."""
    headings: Headings


def tell_table(terminal: Terminal, w: Wording, found: FoundList) -> None:
    """Which part of the list is read, and what in it is passed over."""
    tables, table, headings = found.tables, found.table, found.headings
    between = _SIGNS.get(table.delimiter or "", table.delimiter)
    stand = w("importing.headings_in", row=str(headings.row)) if headings.row else w("importing.no_headings")
    facts = {"file": found.file.as_posix(), "sheet": table.name, "rows": str(len(rows_below(table, headings)))}
    terminal.say(w("importing.read", headings=stand, encoding=table.encoding, delimiter=between, **facts), "bold")
    hidden = [each.name for each in tables if each is not table and each.hidden]
    others = [each.name for each in tables if each is not table and not each.hidden]
    columns = [each.name for each in headings.columns if each.column in table.hidden_columns]
    rows = [str(number) for number in table.coloured if number > headings.row]
    above = [str(row.number) for row in table.rows if row.number < headings.row and sum(cell.kind is not CellKind.EMPTY for cell in row.cells) > 1]
    for key, facts_of in (
        ("hidden_sheets", {"sheets": hidden}),
        ("other_sheets", {"sheets": others}),
        ("hidden_columns", {"columns": columns}),
        ("coloured", {"rows": _some(rows)}),
        ("above", {"rows": _some(above)}),  # a title stands alone; several cells may be a part
    ):
        if any(facts_of.values()):
            terminal.note(w(f"importing.notes.{key}", **facts_of), "yellow")
    if table.has_remarks:
        terminal.note(w("importing.notes.remarks"), "yellow")


def tell_headings(terminal: Terminal, w: Wording, headings: Headings, catalogue: Catalogue, *, mapped: bool) -> None:
    """Whether what is taken for headings may be the first part of the list. mapped: a person has said where they stand."""
    data, known = data_in(headings, catalogue), known_count(headings)
    if data and (known < 2 or not mapped):
        terminal.note(w("importing.notes.data_in", row=str(headings.row), texts=_some(data)), "yellow")
    elif headings.row and not known and not mapped:
        terminal.note(w("importing.notes.none_known", row=str(headings.row)), "yellow")


def _some(names: Sequence[str]) -> list[str]:
    return [*names[:_MOST_NAMED], *(["…"] if len(names) > _MOST_NAMED else [])]


def tell_proposal(terminal: Terminal, w: Wording, columns: Sequence[Understood], fleet: str | None) -> None:
    """Each column with what it seems to tell, and what no column tells. fleet: which the map proposes for all rows."""
    known = [each for each in columns if each.field or each.doubted]
    others = [each for each in columns if each not in known]
    shown = known + others[:_MOST_NAMED]
    rows = [
        (column_letters(each.heading.column), each.heading.text, _tells(each, w), each.examples[0] if each.examples else "")
        for each in sorted(shown, key=lambda each: each.heading.column)
    ]
    terminal.table([w(f"importing.columns.{key}") for key in ("column", "heading", "tells", "example")], rows)
    if len(others) > _MOST_NAMED:
        terminal.say(w.count("importing.more_left_out", len(others) - _MOST_NAMED))
    told = {each.field for each in columns} | ({Field.FLEET} if fleet else set())
    missing = [field.value for field in _WANTED if field not in told]
    if missing:
        terminal.say(w("importing.missing", fields=missing))


def _tells(each: Understood, w: Wording) -> str:
    if each.doubted:
        return w("importing.asks", field=each.doubted.value)
    if each.field is None:
        return w("importing.unknown")
    told = w("importing.left_out") if each.field is Field.LEFT_OUT else each.field.value
    return f"{told} ({each.kind})" if each.kind else told


def tell_plan(terminal: Terminal, w: Wording, plan: ListPlan, sources: ListSources, *, dry: bool) -> None:
    """What became of the rows, or would; the sum is the last line."""
    language = sources.catalogue.language
    for draft, folder, content in plan.new.values() if dry else ():
        terminal.say(_would(draft, folder, content, w))
    terminal.problems(sorted(plan.doubts, key=lambda each: each.order), Path(), language)
    _tell_refused(terminal, w, plan.problems, language)
    _notes(terminal, w, plan, sources)
    _tell_files(terminal, w, plan, sources)
    whole = [draft for draft, _, _ in plan.new.values() if draft.letter]
    lacking = [draft for draft, _, _ in plan.new.values() if draft.lacks]
    if whole or lacking:
        terminal.say(w("importing.approvals", whole=str(len(whole)), lacking=str(len(lacking))))
    if whole and sources.by is None:
        terminal.note(w("importing.notes.letters", count=str(len(whole))), "yellow")
    if dry or plan.new:
        terminal.say(w("importing.dry" if dry else "importing.then"))
    facts = {"rows": plan.read.rows, "written": len(plan.new), "here": len(plan.here), "refused": len(plan.refused)}
    terminal.say(w("importing.dry_sum" if dry else "importing.sum", **{key: str(count) for key, count in facts.items()}), "bold")


def _tell_refused(terminal: Terminal, w: Wording, problems: Sequence[Problem], language: Language) -> None:
    """Each refusal; of one that a single line of the map mends, or --files, the first rows whole and the others by number."""
    alike: dict[tuple[object, ...], list[Problem]] = {}
    for each in problems:
        if each.key in _ONE_MEND:
            alike.setdefault((each.code, each.key, each.where.column), []).append(each)
    last_shown = {same[_MOST_ALIKE - 1]: same[_MOST_ALIKE:] for same in alike.values() if len(same) > _MOST_ALIKE}
    passed = {each for rest in last_shown.values() for each in rest}
    for problem in problems:
        if problem not in passed:
            terminal.problems([problem], Path(), language)
        if rest := last_shown.get(problem):
            rows = [str(each.where.line) for each in rest]
            terminal.say("    " + w.count("importing.more_alike", len(rows), rows=rows))


def _would(draft: Draft, folder: Path, content: dict[str, bytes], w: Wording) -> str:
    """One line on a part that would be written."""
    todo = [line.strip(" -").partition(":")[0] for line in content["part.yml"].decode().splitlines() if f": {TODO}" in line]
    beside = [name for name in content if name.startswith(("documents/", "photos/"))]
    letter = w("importing.letter", reference=draft.letter.reference) if draft.letter and b"taken over" in content["approval.yml"] else None
    facts = {"row": str(draft.row), "folder": folder.as_posix(), "model": draft.mesh, "files": beside, "todo": todo, "letter": letter}
    return w("importing.would", **facts)


def _notes(terminal: Terminal, w: Wording, plan: ListPlan, sources: ListSources) -> None:
    if plan.as_text:
        rows = [w("importing.notes.as_text_of", row=str(row), folder=folder) for row, folder in plan.as_text]
        terminal.note(w("importing.notes.as_text", rows=rows), "yellow")
    headings, listed, read = sources.around.headings, sources.listed, plan.read
    named = {found.column for column in listed.columns if (found := headings.named(column.heading))}
    unnamed = [each.name for each in headings.columns if each.column not in named]
    if unnamed:
        terminal.note(w("importing.notes.unnamed", columns=_some(unnamed)), "yellow")
    if read.worked_out:
        terminal.note(w("importing.notes.worked_out", count=w.number(read.worked_out)), "yellow")
    words = [w("importing.notes.word", column=column, text=text, here=here) for column, text, here in read.words]
    if words:
        terminal.note(w("importing.notes.words", words=_some(words)))


def _tell_files(terminal: Terminal, w: Wording, plan: ListPlan, sources: ListSources) -> None:
    """What lies in the folder and belongs to no row, and letters of approvals that are not taken over."""
    drafts = [*(draft for draft, _, _ in plan.new.values()), *plan.here]
    used = {name for each in drafts for name in (each.mesh, *each.documents, *each.photos, each.letter_file)}
    files = sources.files
    left = [name for name in files.names if name not in used]
    if left:
        more = len(left) - _MOST_NAMED
        terminal.note(w("importing.notes.files", files=left[:_MOST_NAMED], more=str(more) if more > 0 else None), "yellow")
    rows_of: dict[str, list[str]] = {}
    for draft, _, _ in plan.new.values():
        if draft.letter_file and not (draft.letter and sources.by):
            rows_of.setdefault(draft.letter_file, []).append(str(draft.row))
    if rows_of:
        letters = [w.count("importing.notes.letter_of", len(rows), file=file, rows=", ".join(rows)) for file, rows in rows_of.items()]
        terminal.note(w("importing.notes.letters_left", letters=_some(letters)), "yellow")
    if files.outside:
        terminal.note(w("importing.notes.outside", files=_some(files.outside)), "yellow")
