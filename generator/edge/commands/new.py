"""`spares new`: a folder for a new part, with all that its mesh, its request and the depot's lists already tell."""

import argparse
import difflib
from collections.abc import Iterable
from pathlib import Path
from typing import Any

from pydantic import TypeAdapter, ValidationError
from pydantic_core import ErrorDetails

from generator.edge.commands import options as asking
from generator.edge.commands.new_model import (
    MeasuredModel,
    add_model,
    measured_words,
    model_from,
    refuse_mixed,
)
from generator.edge.commands.terminal import Terminal, counted
from generator.edge.disk.answering import answer_of, photo_of, request_of
from generator.edge.disk.atomic import tidied
from generator.edge.disk.new_folder import create_folder
from generator.edge.disk.writing_lock import held
from generator.edge.refusals import Ending, refused
from generator.edge.spoken import words
from generator.edge.standing import usual_role
from generator.geometry.plate import fits_plate
from generator.geometry.printing.pose import USUAL_DEG
from generator.geometry.printing.score import best_pose
from generator.pages.problems.said import said
from generator.pages.wording import wording
from generator.reading.catalogue import read_catalogue
from generator.reading.validating import unfit_text
from generator.records.base import Name, PartNumber
from generator.records.catalogue import Catalogue
from generator.records.depot import GeneralTolerance
from generator.records.problems import Problem, Unfit, Where
from generator.records.requests import Request
from generator.rules.printable import angle_for, hollow_doubts
from generator.rules.proposed_checks import proposed_checks
from generator.writing.comments import comments
from generator.writing.new_part import (
    AnsweredRequest,
    NewPart,
    ProposedCheck,
    Suggested,
    folder_name,
    new_part_files,
)

DESCRIPTION = """\
Starts the folder of a new part: reads and measures the mesh safely, copies it, and writes part.yml,
approval.yml and fitting.md. What only a person knows stands there as TODO; `spares check` names exactly
these lines until they are filled in. Nothing that exists is ever overwritten.

With --from the part answers a request: what the request knows is filled in, its photo comes along, and its file says
who answers it, all in one go or not at all. Where there is no model, --no-model says why; such a part is asked about
first, whoever approves it.
"""
EXAMPLE = """\
  spares new TV-0512 "Armrest end cap" --mesh ~/armrest-cap.stl
  spares new TV-0512 "Armrest end cap" --mesh ~/armrest-cap.stl --fleet TR7 --place saloon --per-vehicle 24 \\
      --material pa12-fr-grey --by am-specialist
  spares new TV-0513 --from R-0031 --mesh ~/cab-knob.stl
  spares new TV-0514 "Reading-lamp glass" --no-model bought --size 62x40x18
"""


def add_arguments(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("number", metavar="NUMBER", help="the new part's number, such as A-0512")
    parser.add_argument("name", metavar="NAME", nargs="?", help="its name, in quotes; with --from that of the request")
    add_model(parser)
    parser.add_argument(
        "--from", dest="request", action="append", metavar="REQUEST", help="the request that it answers, such as R-0031"
    )
    parser.add_argument("--fleet", metavar="ID", help="fleet it fits, as in fleets.yml")
    parser.add_argument("--place", metavar="ID", help="place on that fleet")
    parser.add_argument("--per-vehicle", type=asking.on_one_vehicle, metavar="COUNT", help="how many there are on one vehicle")
    parser.add_argument(
        "--material", metavar="ID", help="material, as in materials/; its makers are filled in"
    )
    parser.add_argument("--by", metavar="ROLE", help="role that started the design, as in depot.yml")
    asking.add_day(parser, "day the design was started (default: today)")
    asking.add_catalogue(parser)


def run(options: argparse.Namespace) -> int:
    terminal = Terminal()
    refuse_mixed(options)
    root = asking.catalogue_of(options.catalogue)
    number = _text(PartNumber, options.number, "number")
    before = _free(options, root, number)  # a taken number or an answered request is told before the mesh is measured
    _named(options, before, root)
    store, w = asking.store_in(options.store), wording(before.language)
    model = model_from(options.mesh, options.units, store, terminal, w) if options.mesh else None
    with held(root, f"new {number}", terminal.note):
        catalogue = _free(options, root, number)
        asked, name = _named(options, catalogue, root)
        draft = _draft(options, number, name, model, catalogue, asked=asked)
        folder = root / "parts" / folder_name(number, name)
        files = {f"model.{model.ending}": model.content} if model else {}
        files |= photo_of(*asked, catalogue, root) if asked else {}
        answer = answer_of(asked[0], number, root, catalogue) if asked else None
        tidied(folder.parent)
        create_folder(folder, files | _encoded(new_part_files(draft)), answer)
    if asked:
        terminal.say(w("commands.new.answered", request=asked[0], number=number), "bold")
    return _tell(terminal, root, folder, draft, hollow_doubts(model.features if model else None))


def _named(options: argparse.Namespace, catalogue: Catalogue, root: Path) -> tuple[tuple[str, Request] | None, str]:
    """The request that is to be answered, if any, and the part's name: as given, else as the request has it."""
    if options.request and len(options.request) > 1:
        raise refused("one_request", Ending.MISUSE)
    asked = request_of(catalogue, options.request[0], root) if options.request else None
    if options.name is None and asked is None:
        raise refused("no_name", Ending.MISUSE)
    return asked, _text(Name, options.name if options.name is not None else asked[1].name if asked else "", "name")


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
        why = _why_unfit(error.errors(include_url=False)[0])
        raise refused(f"bad_{what}", Ending.MISUSE, given=given, why=why) from None


def _why_unfit(detail: ErrorDetails) -> str:
    """What the records say of such a text, and the mend where the refusal has none of its own."""
    told = said(unfit_text(detail), words())
    is_own = isinstance(detail.get("ctx", {}).get("error"), Unfit)
    return f"{told.says.strip()}; {told.fix}" if is_own else told.says.strip()


def _refuse_unknown(options: argparse.Namespace, catalogue: Catalogue) -> None:
    _refuse_stranger("fleet", options.fleet, catalogue.fleets)
    _refuse_stranger("material", options.material, catalogue.materials)
    _refuse_stranger("role", options.by, _roles(catalogue))
    if options.place and not options.fleet:
        raise refused("place_alone", Ending.MISUSE)
    _refuse_stranger("place", options.place, _places(catalogue, options.fleet))


def _refuse_stranger(kind: str, given: str | None, known: Iterable[str]) -> None:
    names = sorted(known)
    if given is None or given in names:
        return
    close = difflib.get_close_matches(given, names, n=1)
    raise refused(f"no_{kind}", Ending.MISUSE, near=close, given=given, role=given, known=", ".join(names))


def _roles(catalogue: Catalogue) -> tuple[str, ...]:
    return tuple(role.id for role in catalogue.depot.roles) if catalogue.depot else ()


def _places(catalogue: Catalogue, fleet: str | None) -> tuple[str, ...]:
    return tuple(place.id for place in catalogue.fleets[fleet].places) if fleet in catalogue.fleets else ()


def _refuse_taken(root: Path, catalogue: Catalogue, number: str) -> None:
    taken = [each for each in catalogue.parts if each.number.casefold() == number.casefold()]
    if taken:
        raise refused("taken", number=number, folder=str(root / taken[0].folder))


def _draft(
    options: argparse.Namespace, number: str, name: str, model: MeasuredModel | None, catalogue: Catalogue, *, asked: tuple[str, Request] | None
) -> NewPart:
    fleet = options.fleet or (asked[1].fleet if asked and asked[1].fleet in catalogue.fleets else None)
    own = asked[1] if asked and asked[1].fleet == fleet else None
    place = options.place or (own.place if own and own.place in _places(catalogue, fleet) else None)
    return NewPart(
        number=number,
        name=name,
        mesh_units=model.units if model else None,
        measured=measured_words(model.facts, wording(catalogue.language)) if model else "",
        no_model=options.no_model,
        size_by_hand=options.size,
        on=options.on or asking.today(),
        fleet=fleet,
        vehicles=own.vehicles if own else (),
        place=place,
        per_vehicle=options.per_vehicle,
        material=options.material,
        makers=_able(options.material, model, catalogue) if model else (),
        by=options.by or _usual(catalogue),
        fleets=tuple(sorted(catalogue.fleets)),
        places=_places(catalogue, fleet),
        materials=tuple(sorted(catalogue.materials)),
        roles=_roles(catalogue),
        asked=AnsweredRequest(name=asked[0], request=asked[1]) if asked else None,
        proposed=_proposed(model, catalogue),
        tolerance=f"ISO 2768-1 {_general(catalogue)}",
        suggested=_suggested(model, options.material, catalogue) if model else None,
        language=catalogue.language,
    )


def _proposed(model: MeasuredModel | None, catalogue: Catalogue) -> tuple[ProposedCheck, ...]:
    names = comments(catalogue.language).proposed_names
    return tuple(
        ProposedCheck(
            name=names[each.kind].format(size=f"{each.nominal_mm:g}"),
            nominal_mm=each.nominal_mm,
            plus_mm=each.tolerance_mm,
            minus_mm=each.tolerance_mm,
            feature=each.kind,
            count=each.count,
        )
        for each in proposed_checks(model.features if model else None, _general(catalogue))
    )


def _general(catalogue: Catalogue) -> GeneralTolerance:
    """The depot's own class, else the one that its drawings say."""
    return (catalogue.depot.drawing.general_tolerance if catalogue.depot else None) or GeneralTolerance.MEDIUM


def _suggested(model: MeasuredModel, material: str | None, catalogue: Catalogue) -> Suggested:
    """What of the settings the geometry tells; a pose that leans has no axis to be named by."""
    makers = (catalogue.makers[name] for name in _able(material, model, catalogue))
    best = best_pose(model.poses, angle_for(makers) if material else USUAL_DEG) if model.poses and model.poses.candidates else None
    walls = model.walls
    return Suggested(
        nominal_mm=float(f"{walls.nominal_mm:.2g}") if walls else None,
        thinnest_mm=walls.thinnest_mm if walls else None,
        up=best.axis if best else None,
    )


def _able(material: str | None, model: MeasuredModel, catalogue: Catalogue) -> tuple[str, ...]:
    makers = [maker for maker in catalogue.makers.values() if material in maker.materials]
    return tuple(maker.id for maker in makers if fits_plate(model.facts.oriented_size_mm, maker.build_volume_mm))


def _usual(catalogue: Catalogue) -> str | None:
    """The user's own role, where this depot has it too."""
    usual = usual_role()
    return usual.role if usual and usual.role in _roles(catalogue) else None


def _encoded(texts: dict[str, str]) -> dict[str, bytes]:
    return {name: text.encode("utf-8") for name, text in texts.items()}


def _tell(terminal: Terminal, root: Path, folder: Path, draft: NewPart, doubts: Iterable[Problem]) -> int:
    catalogue = read_catalogue(root)
    found = next((each for each in catalogue.parts if (root / each.folder) == folder), None)
    w = wording(catalogue.language)
    terminal.say(f"{w('commands.new.there', folder=str(folder))} {draft.measured}".rstrip(), "bold")
    if found and found.problems:
        terminal.say(w("commands.new.rest", count=counted(found.problems, w)))
        terminal.problems(found.problems, root, catalogue.language)
    if found and found.mesh:
        terminal.problems([each.at(Where(found.mesh.path)) for each in doubts], root, catalogue.language)
    terminal.say(w("commands.new.then"))
    return Ending.CLEAN
