"""The folder catalogue/ → the whole catalogue, with every problem at once."""

from collections import defaultdict
from collections.abc import Iterable
from dataclasses import dataclass, replace
from pathlib import Path
from typing import TypeVar

from pydantic import BaseModel

from generator.reading.crosschecks import check_folder, check_lists, check_numbers
from generator.reading.disk import Disk
from generator.reading.letters import check_letters
from generator.reading.lying_files import all_below
from generator.reading.moved import moved_problems
from generator.reading.outlines import read_outlines
from generator.reading.part_folder import ReadFolder, read_part_folder
from generator.reading.pictures import KeptFiles
from generator.reading.placing import put
from generator.reading.prints import prints_findings
from generator.reading.production import ProductionSources, careful, read_production
from generator.reading.production_checks import production_problems
from generator.reading.queries import queries_findings
from generator.reading.requests import ReadRequests, read_requests
from generator.reading.roles import kept_since_role
from generator.reading.standards import held_standard
from generator.reading.strayed_records import PAPERS_OF_RECALLS, Strayed, strayed_records
from generator.reading.validating import record
from generator.reading.yaml_places import YamlFile
from generator.records.catalogue import Catalogue, KeptFile, PartFolder
from generator.records.depot import NEWEST_CATALOGUE, Depot, Language, LaterFormatError, Words
from generator.records.fleets import Fleets
from generator.records.makers import Makers
from generator.records.materials import Material
from generator.records.prints import Prints
from generator.records.problems import Where, doubt, in_order, wrong
from generator.records.queries import Queries
from generator.rules.answering import answers
from generator.rules.recorded import Printed

R = TypeVar("R", bound=BaseModel)


KNOWN = (
    *("depot.yml", "fleets.yml", "makers.yml", "prints.yml", "words.yml", "allowed_signers"),
    *("materials", "parts", "queries", "requests", "standards", "outlines", "machines", "batches", "fitted", "recalls"),
)


@dataclass(slots=True)
class Sources:
    """The files that belong to no part, as written, so that later checks can point into them."""

    depot: YamlFile
    fleets: YamlFile | None
    makers: YamlFile | None
    words: YamlFile | None
    prints: YamlFile | None
    materials: dict[str, YamlFile]
    requests: dict[str, YamlFile]
    queries: dict[str, YamlFile]
    standards: dict[str, YamlFile]
    production: ProductionSources


def read_catalogue(root: Path, known: KeptFiles | None = None) -> Catalogue:
    """Read the catalogue in `root`; all that is wrong is in the result's problems.

    known: where it is kept which pictures can be shown.

    Raises LaterFormatError, and nothing else by what an author can write.
    """
    disk = Disk(root, known=known)
    sources = _sources(disk)
    _refuse_later(root, sources.depot)
    asked = read_requests(disk, sources.requests)
    catalogue = _records(disk, sources, asked)
    for name, found in catalogue.queries.items():
        put(sources.queries[name].problems, sources.queries[name], queries_findings(found, catalogue))
    part_folders = _part_folders(disk, sources.production.strays)
    problems = disk.taken()  # before any part is read: what is met from here on is that part's own
    folders = [read_part_folder(disk, folder) for folder in part_folders]
    written = (sources.depot, sources.fleets, sources.makers, sources.words, sources.prints)
    problems += [problem for source in written if source for problem in source.problems]
    for listed in (sources.materials, sources.requests, sources.queries, sources.standards):
        problems += [problem for source in listed.values() for problem in source.problems]
    problems += [problem for source in sources.production.every for problem in source.problems]
    problems += [problem for file in sources.production.fitted for problem in file.problems]
    catalogue = replace(catalogue, problems=tuple(problems))
    if catalogue.depot:
        put(problems, sources.depot, kept_since_role(catalogue.depot))
    check_numbers(folders)
    numbers = {each.number for each in folders}
    if sources.prints:
        printed = {each.number: Printed(each.part, each.approval, each.mesh is not None) for each in folders if each.part}
        put(problems, sources.prints, prints_findings(catalogue, numbers, printed))
    for folder in folders:
        check_folder(folder, catalogue, numbers)
    check_letters(folders, folders, catalogue.materials.values())
    answering = {each.number for each in folders if answers(each.part, each.approval, each.problems)}
    problems += check_lists(catalogue, sources.materials, sources.requests, numbers, answering)
    whole = replace(catalogue, parts=_closed(folders), problems=in_order(problems), production=replace(catalogue.production, going_to=_going_to(folders)))
    of_prints = [*moved_problems(whole, sources.production), *production_problems(whole, sources.production, numbers)]
    production = careful(whole.production, [*problems, *of_prints], numbers)
    return replace(whole, problems=in_order([*problems, *of_prints]), production=production)


def _going_to(folders: Iterable[ReadFolder]) -> dict[tuple[str, str], frozenset[str]]:
    """Which parts go to each place of a fleet; of one whose record cannot be read nobody knows, so it may go to each."""
    found: defaultdict[tuple[str, str], set[str]] = defaultdict(set)
    listed = list(folders)
    for each in listed:
        for fit in each.part.fits if each.part else ():
            found[fit.fleet, fit.place].add(each.number)
    unread = {each.number for each in listed if each.part is None}
    return {site: frozenset(parts | unread) for site, parts in found.items()}


def _refuse_later(root: Path, depot: YamlFile) -> None:
    content = depot.content if isinstance(depot.content, dict) else {}
    given, language = content.get("format"), content.get("language")
    if isinstance(given, int) and not isinstance(given, bool) and given > NEWEST_CATALOGUE:
        problem = wrong("DEPOT03", "later", given=given, newest=NEWEST_CATALOGUE).at(depot.where(("format",)))
        raise LaterFormatError(problem, root.as_posix(), Language(language) if language in set(Language) else Language.ENGLISH)


def _part_folders(disk: Disk, strays: Iterable[Strayed]) -> list[str]:
    found, astray = [], {each.file for each in strays}
    _add_hidden(disk, "parts/")
    for name in disk.names("parts"):
        if disk.is_folder(f"parts/{name}"):
            found.append(f"parts/{name}")
        elif not name.lower().startswith("readme") and f"parts/{name}" not in astray:
            disk.add(f"parts/{name}", doubt("FOLD01", "in parts"))
    return found


def _closed(folders: list[ReadFolder]) -> tuple[PartFolder, ...]:
    return tuple(sorted((folder.closed() for folder in folders), key=lambda each: (each.number, each.folder)))


# What git, editors and our own commands keep at the top of a catalogue.
_OF_TOOLS = (".git", ".github", ".hg", ".svn", ".vscode", ".idea", ".editorconfig", ".spares.lock", ".store", ".schema")


def _add_hidden(disk: Disk, folder: str) -> None:
    for name in disk.hidden(folder or "."):
        if not name.startswith(_OF_TOOLS):
            disk.add(f"{folder}{name}", doubt("FOLD03", "hidden"))


def _sources(disk: Disk) -> Sources:
    names = disk.names(".")
    _add_hidden(disk, "")
    depot = _depot(disk)
    unknown = [name for name in names if name not in (*KNOWN, _list_of_keys(depot)) and not name.lower().startswith("readme")]
    for name in unknown:
        meant = next((known for known in KNOWN if known.split(".")[0] == name.split(".")[0].lower()), None)
        disk.add(name, doubt("FOLD01", "in catalogue", "rename" if meant else "take out", meant=meant))
    sources = _read_sources(disk, names, depot)
    hidden = [name for name in disk.hidden(".") if not name.startswith(_OF_TOOLS)]
    sources.production.strays = _strays(disk, names, [*unknown, *hidden], sources)
    return sources


def _read_sources(disk: Disk, names: list[str], depot: YamlFile) -> Sources:
    return Sources(
        depot=depot,
        fleets=_list(disk, "fleets.yml", names),
        makers=_list(disk, "makers.yml", names),
        words=disk.yaml("words.yml") if "words.yml" in names else None,
        prints=disk.yaml("prints.yml") if "prints.yml" in names else None,
        materials=_yaml_files(disk, "materials"),
        requests=_yaml_files(disk, "requests"),
        queries=_yaml_files(disk, "queries"),
        standards=_yaml_files(disk, "standards"),
        production=ProductionSources(
            lots=_yaml_files(disk, "materials/lots"),
            machines=_yaml_files(disk, "machines"),
            batches=_yaml_files(disk, "batches"),
            recalls=_yaml_files(disk, "recalls"),
        ),
    )


def _strays(disk: Disk, names: list[str], elsewhere: list[str], sources: Sources) -> tuple[Strayed, ...]:
    """What may be a record of prints and is not read, each an error, told once."""
    recalls = _stray_recalls(disk, names)
    misread = (each for kind in (sources.materials, sources.requests, sources.queries, sources.standards, sources.production.machines) for each in kind.values())
    found = [*recalls, *strayed_records(disk, [name for name in elsewhere if Strayed(name, "recall") not in recalls], misread)]
    is_told_otherwise = {"FOLD01", "FOLD03"}
    disk.problems = [each for each in disk.problems if each.code not in is_told_otherwise or not any(one.lies_in(each.where.file) for one in found)]
    return tuple(found)


def _stray_recalls(disk: Disk, names: list[str]) -> list[Strayed]:
    """Whatever lies where a recall would, under a name by which it is not read, for it may call something back; an empty folder does not, nor do papers."""
    beside = [name for name in names if name != "recalls" and name.split(".")[0].casefold() == "recalls"]
    beside += ["recalls"] if "recalls" in names and not disk.is_folder("recalls") else []
    inside = [f"recalls/{name}" for name in disk.names("recalls") if not name.endswith(".yml") and not name.lower().startswith("readme")]
    inside += [f"recalls/{name}" for name in disk.hidden("recalls") if name.lower().endswith((".yml", ".yaml"))]
    found = [path for path in (*beside, *inside) if (below := all_below(disk, path)) is None or (below and path != PAPERS_OF_RECALLS)]
    for path in found:
        disk.add(path, wrong("RECALL02", "not read"))
    return [Strayed(path, "recall") for path in found]


def _list(disk: Disk, file: str, names: list[str]) -> YamlFile | None:
    """A list that every part needs: as long as there is no part, it may be missing, and is empty."""
    return disk.yaml(file) if file in names or disk.names("parts") else None


def _depot(disk: Disk) -> YamlFile:
    if disk.is_there("depot.yml"):
        return disk.yaml("depot.yml")
    return YamlFile("depot.yml", problems=[wrong("DEPOT05", "no depot", where=Where("depot.yml"))])


def _list_of_keys(depot: YamlFile) -> str:
    """The file, or the folder around it, that depot.yml names as its list of allowed signers."""
    content = depot.content if isinstance(depot.content, dict) else {}
    signatures = content.get("signatures")
    named = signatures.get("allowed_signers") if isinstance(signatures, dict) else None
    return str(named or "").split("/")[0]


# What a folder of records holds besides them.
_BESIDE = {
    "materials": ("documents", "lots"), "requests": ("photos", "models"), "queries": (), "standards": ("documents",),
    "materials/lots": ("documents",), "machines": ("documents",), "batches": ("documents",), "recalls": ("documents",),
}  # fmt: skip


_OF_PRINTS = ("materials/lots", "machines", "batches", "recalls")


def _yaml_files(disk: Disk, folder: str) -> dict[str, YamlFile]:
    found, beside = {}, _BESIDE[folder]
    for name in disk.names(folder):
        if name.endswith(".yml"):
            record_file = disk.yaml(f"{folder}/{name}")
            # One of comments alone is an example; of what was printed an empty file may be one that was lost.
            if record_file.content is not None or record_file.problems or folder in _OF_PRINTS:
                found[name.removesuffix(".yml")] = record_file
        elif name not in beside and not name.lower().startswith("readme"):
            disk.add(f"{folder}/{name}", doubt("FOLD01", "in records", beside=[f"{each}/" for each in beside]))
    return found


def _records(disk: Disk, sources: Sources, asked: ReadRequests) -> Catalogue:
    fleets = record(Fleets, sources.fleets) if sources.fleets else None
    makers = record(Makers, sources.makers) if sources.makers else None
    prints = record(Prints, sources.prints) if sources.prints else None
    return Catalogue(
        depot=record(Depot, sources.depot),
        fleets={fleet.id: fleet for fleet in fleets.fleets} if fleets else {},
        makers={maker.id: maker for maker in makers.makers} if makers else {},
        materials=_each(Material, sources.materials),
        material_files=_material_files(disk),
        prints=prints.prints if prints else (),
        words=(record(Words, sources.words) if sources.words else None) or Words(),
        parts=(),
        standard=held_standard(disk, sources.standards),
        requests=asked.requests,
        queries=_each(Queries, sources.queries),
        request_voices=asked.voices,
        request_files=asked.files,
        request_models=asked.models,
        requests_refused=asked.refused,
        production=read_production(disk, sources.production),
        outlines=read_outlines(disk, fleets.fleets if fleets else ()),
        problems=(),
    )


def _each(kind: type[R], sources: dict[str, YamlFile]) -> dict[str, R]:
    records = {name: record(kind, source) for name, source in sources.items()}
    return {name: found for name, found in records.items() if found}


def _material_files(disk: Disk) -> dict[str, KeptFile]:
    files = {}
    for name in disk.names("materials/documents"):
        kept = disk.kept(f"materials/documents/{name}")
        if kept:
            files[f"documents/{name}"] = kept
    return files
