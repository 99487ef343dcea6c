"""`spares new`: a folder for a new part, with all that its mesh and the depot's lists already tell."""

import argparse
import difflib
import hashlib
import shutil
from collections.abc import Iterable
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from pydantic import TypeAdapter, ValidationError
from pydantic_core import ErrorDetails

from generator.edge.commands import options as asking
from generator.edge.commands.terminal import Terminal, counted
from generator.edge.disk import done
from generator.edge.disk.atomic import beside, tidied
from generator.edge.disk.unbroken import unbroken
from generator.edge.disk.writing_lock import held
from generator.edge.refusals import Ending, Refusal, disk_refusal
from generator.geometry.facts import MeshFacts
from generator.geometry.plate import fits_plate
from generator.measuring.all_meshes import worked_on
from generator.measuring.guarded import Guard
from generator.measuring.one_mesh import Order
from generator.measuring.store import Store
from generator.pages.problems.said import said
from generator.pages.wording import Wording, wording
from generator.reading.catalogue import read_catalogue
from generator.reading.meshes.errors import MeshError
from generator.reading.meshes.file import mesh_bytes
from generator.reading.part_folder import MESH_ENDINGS
from generator.records.base import Name, PartNumber
from generator.records.catalogue import Catalogue
from generator.records.depot import Language
from generator.records.mesh_units import MeshUnits
from generator.records.problems import Problem, Unfit, wrong
from generator.writing.new_part import Draft, folder_name, new_part_files

DESCRIPTION = """\
Starts the folder of a new part: reads and measures the mesh safely, copies it, and writes part.yml,
approval.yml and fitting.md. What only a person knows stands there as TODO; `spares check` names exactly
these lines until they are filled in. Nothing that exists is ever overwritten.
"""
EXAMPLE = """\
  spares new TV-0512 "Armrest end cap" --mesh ~/armrest-cap.stl
  spares new TV-0512 "Armrest end cap" --mesh ~/armrest-cap.stl --fleet TR7 --place saloon --per-vehicle 24 \\
      --material pa12-fr-grey --by am-specialist
"""
UNITLESS = ("stl", "obj", "ply")


def add_arguments(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("number", metavar="NUMBER", help="the new part's number, such as TV-0512")
    parser.add_argument("name", metavar="NAME", help="its name, in quotes")
    parser.add_argument(
        "--mesh", type=Path, required=True, metavar="FILE", help=f"its model: {', '.join(MESH_ENDINGS)}"
    )
    parser.add_argument(
        "--units", choices=[each.value for each in MeshUnits], help="of STL, OBJ or PLY (default: mm)"
    )
    parser.add_argument("--fleet", metavar="ID", help="fleet it fits, as in fleets.yml")
    parser.add_argument("--place", metavar="ID", help="place on that fleet")
    parser.add_argument("--per-vehicle", type=int, metavar="COUNT", help="how many there are on one vehicle")
    parser.add_argument(
        "--material", metavar="ID", help="material, as in materials/; its makers are filled in"
    )
    parser.add_argument("--by", metavar="ROLE", help="role that started the design, as in depot.yml")
    asking.add_day(parser, "day the design was started (default: today)")
    asking.add_catalogue(parser)


@dataclass(frozen=True, slots=True, kw_only=True)
class Model:
    """The mesh to be copied, as it was measured."""

    ending: str
    content: bytes
    units: MeshUnits | None
    facts: MeshFacts


def run(options: argparse.Namespace) -> int:
    terminal = Terminal()
    root = asking.catalogue_of(options.catalogue)
    number, name = _text(PartNumber, options.number, "number"), _text(Name, options.name, "name")
    language = _free(options, root, number).language  # a taken number is told before the mesh is measured
    model = _model(options.mesh, options.units, asking.store_in(options.store), terminal, wording(language))
    with held(root, f"new {number}", terminal.note):
        draft = _draft(options, number, name, model, _free(options, root, number))
        folder = root / "parts" / folder_name(number, name)
        _create(folder, {f"model.{model.ending}": model.content} | _encoded(new_part_files(draft)))
    return _tell(terminal, root, folder, draft)


def _free(options: argparse.Namespace, root: Path, number: str) -> Catalogue:
    """The catalogue, which has everything that is named and no part of that number."""
    catalogue = read_catalogue(root)
    _refuse_unknown(options, catalogue)
    _refuse_taken(root, catalogue, number)
    return catalogue


def _text(form: Any, given: str, what: str) -> str:
    try:
        return str(TypeAdapter(form).validate_python(given.strip()))
    except ValidationError as error:
        says = _why_unfit(error.errors(include_url=False)[0])
        fix = "a number has 2 to 24 capital letters, digits, dots and dashes, such as TV-0512"
        fix = fix if what == "number" else "write it on one line, with 1 to 80 letters"
        raise Refusal(f"the {what} '{given}' cannot be used: {says}", fix, Ending.MISUSE) from None


def _why_unfit(detail: ErrorDetails) -> str:
    """What the library finds, or what the records say of such a text."""
    reason = detail.get("ctx", {}).get("error")
    if not isinstance(reason, Unfit):
        return detail["msg"]
    told = said(wrong("REC03", reason.key, name="").telling(**reason.facts), wording(Language.ENGLISH))
    return f"{told.says.strip()}; {told.fix}"


def _refuse_unknown(options: argparse.Namespace, catalogue: Catalogue) -> None:
    _refuse_stranger("fleet", options.fleet, catalogue.fleets)
    _refuse_stranger("material", options.material, catalogue.materials)
    _refuse_stranger("role", options.by, _roles(catalogue))
    if options.place and not options.fleet:
        raise Refusal("--place needs --fleet", "name the fleet too", Ending.MISUSE)
    _refuse_stranger("place", options.place, _places(catalogue, options.fleet))
    if options.per_vehicle is not None and not 1 <= options.per_vehicle <= 10000:
        raise Refusal(f"--per-vehicle {options.per_vehicle} cannot be", "write 1 or more", Ending.MISUSE)


def _refuse_stranger(kind: str, given: str | None, known: Iterable[str]) -> None:
    names = sorted(known)
    if given is None or given in names:
        return
    close = difflib.get_close_matches(given, names, n=1)
    fix = f"did you mean {close[0]}?" if close else f"use one of: {', '.join(names)}"
    raise Refusal(f"there is no {kind} '{given}'", fix, Ending.MISUSE)


def _roles(catalogue: Catalogue) -> tuple[str, ...]:
    return tuple(role.id for role in catalogue.depot.roles) if catalogue.depot else ()


def _places(catalogue: Catalogue, fleet: str | None) -> tuple[str, ...]:
    return tuple(place.id for place in catalogue.fleets[fleet].places) if fleet in catalogue.fleets else ()


def _refuse_taken(root: Path, catalogue: Catalogue, number: str) -> None:
    taken = [each for each in catalogue.parts if each.number.casefold() == number.casefold()]
    if taken:
        raise Refusal(
            f"{number} is taken by {root / taken[0].folder}", "choose a free number; nothing was written"
        )


def _model(file: Path, units: str | None, store: Store, terminal: Terminal, w: Wording) -> Model:
    """The mesh, read and measured in a guarded child process as a build would. Raises Refusal with its mend."""
    ending = file.suffix.lower().removeprefix(".")
    if ending not in MESH_ENDINGS:
        says = f"{file} is no model of a kind that is read here"
        raise Refusal(says, f"export it as one of: {', '.join(MESH_ENDINGS)}", Ending.MISUSE)
    own = MeshUnits(units) if units else MeshUnits.MILLIMETRE if ending in UNITLESS else None
    try:
        content = mesh_bytes(file)
    except MeshError as error:
        raise _no_model(file, error.problem, w) from error
    order = Order(path=file.resolve(), sha256=hashlib.sha256(content).hexdigest(), units=own, tint="#9eadbd")
    with terminal.progress() as report, Guard() as children:
        worked = worked_on({"mesh": order}, store, report, children)["mesh"]
    if isinstance(worked, Problem):
        raise _no_model(file, worked, w)
    return Model(ending=ending, content=content, units=own, facts=worked.facts)


def _no_model(file: Path, problem: Problem, w: Wording) -> Refusal:
    line, told = problem.where.line, said(problem, w)
    return Refusal(f"{file}{f':{line}' if line else ''}: {told.says}", told.fix)


def _draft(options: argparse.Namespace, number: str, name: str, model: Model, catalogue: Catalogue) -> Draft:
    makers = [maker for maker in catalogue.makers.values() if options.material in maker.materials]
    able = [maker.id for maker in makers if fits_plate(model.facts.oriented_size_mm, maker.build_volume_mm)]
    return Draft(
        number=number,
        name=name,
        mesh_units=model.units,
        measured=_measured(model.facts),
        on=options.on or asking.today(),
        fleet=options.fleet,
        place=options.place,
        per_vehicle=options.per_vehicle,
        material=options.material,
        makers=tuple(able),
        by=options.by,
        fleets=tuple(sorted(catalogue.fleets)),
        places=_places(catalogue, options.fleet),
        materials=tuple(sorted(catalogue.materials)),
        roles=_roles(catalogue),
    )


def _measured(facts: MeshFacts) -> str:
    size = " × ".join(f"{side:.1f}" for side in facts.size_mm)
    volume = f", {facts.volume_mm3 / 1000:.2f} cm³" if facts.volume_mm3 is not None else ", no sure volume"
    faults = "; ".join(f"{defect.count} {defect.kind.replace('_', ' ')}" for defect in facts.defects)
    return f"The model measures {size} mm as modelled{volume}{f'; {faults}' if faults else ''}."


def _encoded(texts: dict[str, str]) -> dict[str, bytes]:
    return {name: text.encode("utf-8") for name, text in texts.items()}


def _create(folder: Path, files: dict[str, bytes]) -> None:
    """All files or none: they are written beside and come in by one renaming."""
    if folder.exists() or folder.is_symlink():
        raise Refusal(f"{folder} is there already", "choose another number or name; nothing was written")
    tidied(folder.parent)
    fresh = beside(folder)
    with unbroken():
        try:
            folder.parent.mkdir(exist_ok=True)
            fresh.mkdir()
            for name, content in files.items():
                (fresh / name).write_bytes(content)
            fresh.rename(folder)
            done.wrote(f"{folder} is there")
        except OSError as error:
            raise disk_refusal(error, f"writing {folder}") from error
        finally:
            shutil.rmtree(fresh, ignore_errors=True)


def _tell(terminal: Terminal, root: Path, folder: Path, draft: Draft) -> int:
    catalogue = read_catalogue(root)
    found = next((each for each in catalogue.parts if (root / each.folder) == folder), None)
    terminal.say(f"{folder} is there. {draft.measured}", "bold")
    if found and found.problems:
        count = counted(found.problems, wording(catalogue.language))
        terminal.say(f"Only you know the rest ({count} until then):")
        terminal.problems(found.problems, root, catalogue.language)
    terminal.say("Then: spares check, and spares build.")
    return Ending.CLEAN
