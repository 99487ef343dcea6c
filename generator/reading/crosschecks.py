"""Do the records agree with each other? Each disagreement is a problem at the line that makes it."""

from collections import defaultdict
from collections.abc import Iterable

from generator.reading.fire import fire_findings, report_findings
from generator.reading.letters import letter_doubts, own_paper
from generator.reading.meshes.endings import MESH_ENDINGS
from generator.reading.notices import add_notices
from generator.reading.papers import contested_papers, evidence_file, kept_file, papers_of
from generator.reading.part_folder import ReadFolder
from generator.reading.placing import Finding, must_exist, put
from generator.reading.queries import days_findings
from generator.reading.roles import approval_roles, role
from generator.reading.screening import screening_findings
from generator.reading.shelf import demand, prices, shelf
from generator.reading.yaml_places import YamlFile
from generator.records.approvals import (
    Approval,
    Approved,
    ChangeAccepted,
    Route,
    Scope,
    Superseded,
    TakenOver,
    TakeOverConfirmed,
    TrialOpened,
)
from generator.records.catalogue import Catalogue
from generator.records.fitting import SECTIONS, headings
from generator.records.fleets import Fleet
from generator.records.linked import unreadable_link
from generator.records.parts import Part, SafetyRole
from generator.records.problems import Path, Problem, Severity, Where, doubt, wrong
from generator.records.requests import AddedVoice, Request
from generator.records.vehicles import vehicles_in
from generator.rules.answering import answers
from generator.rules.blank import blank_texts
from generator.rules.canonical import from_record
from generator.rules.fingerprint import values_of
from generator.rules.walking import Submission

_ALL = ""  # no number of a vehicle


def check_numbers(folders: list[ReadFolder]) -> None:
    """Two folders never share a number; a number and its folder's name agree."""
    by_number = defaultdict(list)
    for folder in folders:
        by_number[folder.number.casefold()].append(folder)
    for same in by_number.values():
        for folder in same if len(same) > 1 else ():
            others = [other.folder for other in same if other is not folder]
            where = folder.part_yml.where(("number",))
            folder.add(where, wrong("PART01", "same number", number=folder.number, others=others))
    for folder in folders:
        name = folder.folder.rsplit("/", 1)[-1]
        if folder.part and not (name + "-").upper().startswith(folder.number + "-"):
            where = folder.part_yml.where(("number",))
            folder.add(where, wrong("PART02", "other folder", number=folder.number, folder=name))


def check_folder(folder: ReadFolder, catalogue: Catalogue, numbers: set[str]) -> None:
    """Everything a part says of fleets, materials, makers, other parts, roles and evidence must exist."""
    if folder.part:
        put(folder.problems, folder.part_yml, _part_findings(folder, folder.part, catalogue, numbers))
    if folder.approval and folder.approval_yml:
        put(folder.problems, folder.approval_yml, _approval_findings(folder, catalogue, numbers))
    add_notices(folder)
    if folder.fitting and folder.fitting.missing:
        own = dict(zip(SECTIONS, headings(catalogue.language), strict=True))
        named = [f"'## {own[name]}'" for name in folder.fitting.missing]
        folder.add(Where(f"{folder.folder}/fitting.md"), doubt("FIT02", "nothing under", headings=named))


def check_lists(
    catalogue: Catalogue, materials: dict[str, YamlFile], requests: dict[str, YamlFile], numbers: set[str], answering: set[str]
) -> list[Problem]:
    """The same for materials, makers' materials and requests. answering: numbers of parts that can answer one."""
    problems: list[Problem] = []
    for name, found_of in contested_papers(catalogue).items():
        put(problems, materials[name], found_of)
    for name, material in catalogue.materials.items():
        put(problems, materials[name], papers_of(material))
        put(problems, materials[name], report_findings(material, catalogue))
        for kind in ("certificates", "fire_tests", "proof"):
            evidence = enumerate(getattr(material, kind))
            found = [
                kept_file(each.file, each.sha256, catalogue.material_files, (kind, i)) for i, each in evidence
            ]
            put(problems, materials[name], (finding for one in found for finding in one))
    for name, request in catalogue.requests.items():
        voices = len(request.also_wanted) - sum(
            each.adds_to == name for each in catalogue.request_voices.values()
        )
        put(problems, requests[name], _request_findings(request, voices, catalogue, numbers))
    for name, voice in catalogue.request_voices.items():
        put(problems, requests[name], _voice_findings(voice, catalogue, answering))
    return problems


def check_asked(asked: Request | AddedVoice, source: YamlFile, catalogue: Catalogue) -> list[Problem]:
    """What a single request file says of fleets, places, roles, parts and other requests must exist."""
    problems: list[Problem] = []
    if isinstance(asked, Request):
        numbers = {each.number for each in catalogue.parts}
        put(problems, source, _request_findings(asked, len(asked.also_wanted), catalogue, numbers))
    else:
        answering = {each.number for each in catalogue.parts if answers(each.part, each.approval, each.problems)}
        put(problems, source, _voice_findings(asked, catalogue, answering))
    return problems


def _request_findings(
    request: Request, voices: int, catalogue: Catalogue, numbers: set[str]
) -> Iterable[Finding]:
    places = (request.place,) if request.place else ()
    yield from _fleet_findings(catalogue, request.fleet, request.vehicles, places, ())
    if request.answered_by:
        yield from must_exist("part", request.answered_by, numbers, ("answered_by",))
    yield from role(catalogue.depot, request.by, ("by",))
    yield from days_findings(request.looked_for, request.on)
    for name, field in ((request.photo, "photo"), (request.model, "model")):
        if name in catalogue.requests_refused:
            yield wrong("EVID01", "not taken", path=(field,), file=name)
    if request.photo and request.photo not in {*catalogue.request_files, *catalogue.requests_refused}:
        yield wrong("EVID01", "not there", "picture", path=("photo",), file=request.photo)
    if request.model and request.model not in {*catalogue.request_models, *catalogue.requests_refused}:
        yield wrong("EVID01", "not there", "model", path=("model",), file=request.model, endings=MESH_ENDINGS)
    if request.model_units and not request.model:
        yield wrong("REQ06", "units alone", path=("model_units",))
    for i, voice in enumerate(request.also_wanted[:voices]):
        yield from role(catalogue.depot, voice.by, ("also_wanted", i, "by"))


def _voice_findings(voice: AddedVoice, catalogue: Catalogue, answering: set[str]) -> Iterable[Finding]:
    yield from must_exist("request", voice.adds_to, catalogue.requests, ("adds_to",))
    yield from role(catalogue.depot, voice.by, ("by",))
    yield from days_findings(voice.looked_for, voice.on)
    request = catalogue.requests.get(voice.adds_to)
    if request and request.answered_by in answering:
        yield wrong("REQ02", "answered", path=("adds_to",), number=voice.adds_to, part=request.answered_by)


def _kept(kind: str, name: str, catalogue: Catalogue, path: Path) -> Iterable[Finding]:
    """A fleet, maker or material must exist; one whose own file is broken is not taken for a misspelling."""
    kept: dict[str, Iterable[str]] = {
        "fleet": catalogue.fleets,
        "maker": catalogue.makers,
        "material": catalogue.materials,
    }
    if name in kept[kind]:
        return
    file = f"materials/{name}.yml" if kind == "material" else f"{kind}s.yml"
    if any(problem.where.file == file and problem.severity is Severity.ERROR for problem in catalogue.problems):
        yield unreadable_link(kind, name, file, path)
    else:
        yield from must_exist(kind, name, kept[kind], path)


def _places(fleet: Fleet) -> list[str]:
    return [place.id for place in fleet.places]


def _part_findings(
    folder: ReadFolder, part: Part, catalogue: Catalogue, numbers: set[str]
) -> Iterable[Finding]:
    yield from _kept("material", part.material, catalogue, ("material",))
    for i, fit in enumerate(part.fits):
        yield from _fleet_findings(catalogue, fit.fleet, fit.vehicles, (fit.place,), ("fits", i))
    yield from _fitted_twice(part)
    for i, name in enumerate(part.makers):
        yield from _kept("maker", name, catalogue, ("makers", i))
        maker = catalogue.makers.get(name)
        if maker and part.material in catalogue.materials and part.material not in maker.materials:
            able = _makers_of(catalogue, part.material)
            mend, here = "choose" if able else "none has it", ("makers", i)
            yield wrong("MAKE01", "other material", mend, path=here, maker=name, material=part.material, able=able)
        yield from _process(part, name, catalogue, ("makers", i))
    if part.other_hand:
        yield from must_exist("part", part.other_hand, numbers, ("other_hand",))
    for i, number in enumerate(part.look_alikes):
        yield from must_exist("part", number, numbers, ("look_alikes", i))
    for i, name in enumerate(part.further_materials):
        yield from _kept("material", name, catalogue, ("further_materials", i))
    yield from fire_findings(part, catalogue, folder.closed().files)
    yield from shelf(part, folder.approval)
    yield from demand(part)
    yield from prices(part)


def _process(part: Part, name: str, catalogue: Catalogue, path: Path) -> Iterable[Finding]:
    """A maker's process is one that the material is for."""
    maker, material = catalogue.makers.get(name), catalogue.materials.get(part.material)
    prints = maker and part.material in maker.materials
    if maker and material and prints and maker.process not in material.processes:
        own, wanted = maker.process, material.processes
        yield wrong("MAKE02", "other process", path=path, maker=name, process=own, material=part.material, wanted=wanted)


def _fitted_twice(part: Part) -> Iterable[Finding]:
    """Entries for one fleet and place share no vehicle; one that names none speaks of all."""
    said: dict[tuple[str, str], set[str]] = {}
    for index, fit in enumerate(part.fits):
        site, vehicles = (fit.fleet, fit.place), set(vehicles_in(fit.vehicles)) or {_ALL}
        earlier = said.get(site, set())
        if earlier & vehicles or (earlier and _ALL in earlier | vehicles):
            yield wrong("PART03", "fitted twice", path=("fits", index), fleet=fit.fleet, place=fit.place)
        said[site] = earlier | vehicles


def _makers_of(catalogue: Catalogue, material: str) -> list[str]:
    return [name for name, maker in catalogue.makers.items() if material in maker.materials]


def _fleet_findings(
    catalogue: Catalogue, fleet: str, ranges: tuple[str, ...], places: tuple[str, ...], path: Path
) -> Iterable[Finding]:
    yield from _kept("fleet", fleet, catalogue, (*path, "fleet"))
    if fleet not in catalogue.fleets:
        return
    for place in places:
        key = (*path, "place")
        yield from must_exist("place", place, _places(catalogue.fleets[fleet]), key)
    strangers = set(vehicles_in(ranges)) - set(catalogue.fleets[fleet].numbers)
    if strangers:
        has, here = catalogue.fleets[fleet].vehicles, (*path, "vehicles")
        yield wrong("FLEET01", "no such vehicle", path=here, vehicle=vehicles_in(strangers)[0], fleet=fleet, has=has)


def _approval_findings(folder: ReadFolder, catalogue: Catalogue, numbers: set[str]) -> Iterable[Finding]:
    approval = folder.approval
    files = folder.closed().files
    for i, event in enumerate(approval.events if approval else ()):
        path: Path = ("events", i)
        for j, evidence in enumerate(event.evidence):
            yield from evidence_file(evidence, files, (*path, "evidence", j))
        if isinstance(event, Submission) and event.submitted_as:
            yield from _other_number(folder.number, event.submitted_as, (*path, "submitted_as"))
        if isinstance(event, Approved | TrialOpened | TakenOver):
            for j, scope in enumerate(event.scope):
                here = (*path, "scope", j)
                yield from _fleet_findings(catalogue, scope.fleet, scope.vehicles, scope.places, here)
                yield from _scope_beyond_part(folder.part, scope, catalogue, here)
        if isinstance(event, TakeOverConfirmed):
            yield from own_paper(event, folder.part, path)
        if isinstance(event, TakenOver | TakeOverConfirmed):
            yield from letter_doubts(event, path, folder.unread_letters, catalogue)
        if isinstance(event, Approved | TrialOpened | TakeOverConfirmed | ChangeAccepted):
            yield from _other_number(folder.number, event.approved_as, (*path, "approved_as"))
        if isinstance(event, Approved):
            for key in ("changes_asked", "carries_over"):
                said = getattr(event, key)
                yield from evidence_file(said.evidence, files, (*path, key, "evidence")) if said else ()
        if isinstance(event, Superseded):
            yield from must_exist("part", event.superseded_by, numbers, (*path, "superseded_by"))
            if event.superseded_by == folder.number:
                yield wrong("LINK02", "itself", path=(*path, "superseded_by"))
    if approval and approval.waiver and approval.route is Route.AUTHORITY:
        yield wrong("APPR22", "waived in vain", path=("waiver",))
    if approval:
        yield from approval_roles(catalogue.depot, approval)
        yield from blank_texts(approval)
        yield from screening_findings(approval.screening, files, catalogue.law)
        yield from _route(folder.part, approval)


def _route(part: Part | None, approval: Approval) -> Iterable[Finding]:
    """A safety role goes to the authority from the beginning, unless somebody has waived that in writing."""
    if part is None or part.safety_role is SafetyRole.NONE:
        return
    if approval.route is Route.CUSTOMER and approval.waiver is None:
        yield wrong("APPR26", "customer alone", path=("route",))


def _other_number(number: str, text: str, path: Path) -> Iterable[Finding]:
    """A text that binds another part, such as one copied from its folder, says nothing for this one."""
    bound = values_of(from_record(text)).get("number")
    if bound is not None and bound != number:
        yield wrong("APPR21", "other part", path=path, bound=bound, number=number)


def _scope_beyond_part(
    part: Part | None, scope: Scope, catalogue: Catalogue, path: Path
) -> Iterable[Finding]:
    """What an approval speaks of is among what the part fits; a name that does not exist is told elsewhere."""
    if part is None:
        return
    sits = [fit.place for fit in part.fits if fit.fleet == scope.fleet]
    if not sits:
        yield wrong("APPR20", "fleet", path=(*path, "fleet"), fleet=scope.fleet)
        return
    known_places = _places(catalogue.fleets[scope.fleet]) if scope.fleet in catalogue.fleets else []
    for i, place in enumerate(scope.places if set(sits) <= set(known_places) else ()):
        if place in known_places and place not in sits:
            yield wrong("APPR20", "place", path=(*path, "places", i), fleet=scope.fleet, place=place)
