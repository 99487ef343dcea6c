"""JSON Schema (draft 2020-12) of every file of the folder format, and of those that tablets hand over, for editors and other programs."""

from typing import Any

from pydantic import BaseModel

from generator.records.approvals import Approval
from generator.records.batches import Batch
from generator.records.depot import Depot, Words
from generator.records.fitted_file import FittedList
from generator.records.fleets import Fleets
from generator.records.inspection_sheet import InspectionSheet
from generator.records.lots import Lot
from generator.records.machines import Machine
from generator.records.makers import Makers
from generator.records.materials import Material
from generator.records.parts import Part
from generator.records.prints import Prints
from generator.records.queries import Queries
from generator.records.recalls import Recall
from generator.records.requests import Request

DIALECT = "https://json-schema.org/draft/2020-12/schema"

FILES: dict[str, tuple[type[BaseModel], str]] = {
    "depot": (Depot, "depot.yml"),
    "fleets": (Fleets, "fleets.yml"),
    "makers": (Makers, "makers.yml"),
    "prints": (Prints, "prints.yml"),
    "words": (Words, "words.yml"),
    "material": (Material, "materials/*.yml"),
    "part": (Part, "parts/*/part.yml"),
    "approval": (Approval, "parts/*/approval.yml"),
    "request": (Request, "requests/*.yml"),
    "queries": (Queries, "queries/*.yml"),
    "lot": (Lot, "materials/lots/*.yml"),
    "machine": (Machine, "machines/*.yml"),
    "batch": (Batch, "batches/*.yml"),
    "recall": (Recall, "recalls/*.yml"),
}
"""By the name of its schema: the record and the files of the catalogue that hold it."""

HANDED_OVER: dict[str, tuple[type[BaseModel], str]] = {
    "fitted": (FittedList, "fitted-*.yml"),
    "inspection": (InspectionSheet, "inspection-*.yml"),
}
"""The same of files that a tablet or another program hands over, and a command takes in."""
KINDS = FILES | HANDED_OVER


def schema(name: str) -> dict[str, Any]:
    """The schema of one kind of file. Raises ValueError for a name that is not in KINDS."""
    if name not in KINDS:
        raise ValueError(f"no file has the schema '{name}'; there are {', '.join(KINDS)}")
    kind, pattern = KINDS[name]
    made = kind.model_json_schema()
    whose = "of a spares catalogue" if name in FILES else "as it is handed over to a spares catalogue"
    return {"$schema": DIALECT, **made, "title": pattern, "description": f"{pattern} {whose}"}
