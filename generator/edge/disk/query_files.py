"""A list of what was looked for in vain becomes a file of queries/, once: by its content it is known again."""

from contextlib import suppress
from dataclasses import dataclass
from datetime import date
from hashlib import sha256
from pathlib import Path

from generator.edge.disk import done
from generator.edge.disk.atomic import created_whole, tidied
from generator.edge.disk.request_files import read_from_outside
from generator.edge.disk.unbroken import unbroken
from generator.edge.refusals import disk_refusal, refused
from generator.reading.placing import put
from generator.reading.queries import queries_findings
from generator.reading.validating import record
from generator.records.catalogue import Catalogue
from generator.records.problems import Problem, in_order, wrong
from generator.records.queries import Queries
from generator.writing.yaml_text import mapping_lines, quoted

FOLDER = "queries"


@dataclass(frozen=True, slots=True)
class QueryFile:
    """A new file of queries/ as it will be."""

    file: str
    """Its path in the catalogue."""
    text: str


def read_queries(file: Path, catalogue: Catalogue, today: date) -> tuple[Queries | None, tuple[Problem, ...]]:
    """One file from outside; every mistake with the file as it was named."""
    source = read_from_outside(file)
    found = record(Queries, source)
    if found:
        put(source.problems, source, queries_findings(found, catalogue))
        if found.collected > today:
            late = wrong("QRY01", "to come", on=found.collected)
            source.problems.append(late.at(source.where(("collected",))))
    return found, in_order(source.problems)


def query_file(queries: Queries) -> QueryFile:
    """The file of a list; the same list has the same name, whichever request it came with."""
    said = "\n".join(_entries(queries))
    name = f"{queries.collected}-{sha256(said.encode('utf-8')).hexdigest()[:8]}"
    head = {"collected": queries.collected.isoformat()}
    if queries.with_request:
        head["with_request"] = queries.with_request
    return QueryFile(f"{FOLDER}/{name}.yml", "\n".join([*mapping_lines(head), "looked_for:", said]) + "\n")


def known_as(queries: Queries, catalogue: Catalogue, root: Path) -> str | None:
    """The file of the catalogue that holds the list already."""
    named = query_file(queries).file
    if (root / named).exists():
        return named
    mine = (queries.collected, sorted(_entries(queries)))
    same = (name for name, each in catalogue.queries.items() if (each.collected, sorted(_entries(each))) == mine)
    return next((f"{FOLDER}/{name}.yml" for name in same), None)


def _entries(queries: Queries) -> list[str]:
    """One line for each text, so that a person can take out a single one."""
    return [f"  - {{text: {quoted(each.text)}, times: {each.times}, last: {each.last}}}" for each in queries.looked_for]


def write_queries(files: list[QueryFile], root: Path) -> None:
    """Write all of them or none. Raises Refusal."""
    tidied(root / FOLDER)
    written: list[Path] = []
    try:
        with unbroken():
            (root / FOLDER).mkdir(exist_ok=True)
            for each in files:
                created_whole(root / each.file, each.text.encode("utf-8"))
                written.append(root / each.file)
            done.wrote(f"{len(files)} file(s) of {root / FOLDER} are written")
    except OSError as error:
        for file in written:
            with suppress(OSError):
                file.unlink()
        if isinstance(error, FileExistsError) and (root / FOLDER).is_dir():
            raise refused("there_meanwhile", file=str(error.filename2 or error.filename)) from error
        raise disk_refusal(error, "writing", root / FOLDER) from error
