"""May this part be fitted? The facts for every fleet, place and group of vehicles, and the verdict on a day."""

from collections import defaultdict
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date

from generator.records.approvals import Answer, Approval, Approved, Route, Superseded, Withdrawn
from generator.records.catalogue import Catalogue, PartFolder
from generator.records.fleets import as_ranges, vehicles_in
from generator.records.materials import Certificate, FireTest
from generator.records.parts import FireExemption, Fit, Part
from generator.records.problems import Problem, Severity, Where
from generator.rules.basis import Basis, basis_now, basis_then
from generator.rules.binding import Bound, bound_by, place_changes_of
from generator.rules.canonical import from_record
from generator.rules.fingerprint import name_of, weight_of
from generator.rules.fire import fire_need, report_for
from generator.rules.history import History
from generator.rules.lasting import Paper, last_day, longest
from generator.rules.standing import Standing, covers
from generator.rules.verdicts import OF_THE_TABLET, OPEN_END, Facts, FactValue, Judgement, judged_together

DEPOT_FILE = "depot.yml"
NO_DEPOT = Problem(code="REC01", where=Where(DEPOT_FILE), says="cannot be read", fix="mend it first")
# Warnings about the mesh that a person should settle before anybody fits the part, see rules/plausible.py.
MODEL_DOUBTS = frozenset({"SIZE01", "SIZE02", "SOUND01", "ROOM01", "WALL01", "CHECK01", "MESH04"})


@dataclass(frozen=True, slots=True)
class Copy:
    """The copy of the catalogue that is read: the day it was built and how old it may get."""

    built_on: date
    max_copy_age_days: int


@dataclass(frozen=True, slots=True)
class Ground:
    """Vehicles of one fleet at one place that stand alike: the facts of each permit that speaks of them."""

    fleet: str
    place: str
    vehicles: tuple[str, ...]
    """Ranges such as '401-412'."""
    per_vehicle: int
    permits: tuple[Facts, ...]
    label_revision: str | None = None
    """Set where this speaks only of stock that carries the label of an earlier revision."""

    def on(self, day: date) -> Judgement:
        return judged_together(self.permits, day)


def grounds(folder: PartFolder, catalogue: Catalogue, told: History, copy: Copy) -> tuple[Ground, ...]:
    """Every fleet, place and group of vehicles that the part fits, with the facts of its permits.

    A part whose record cannot be read has none: its page says "Do not fit" by itself.
    """
    if folder.part is None:
        return ()
    bound = {permit.index: bound_by(permit, folder.part, catalogue, folder) for permit in told.permits}
    case = _Case(folder, folder.part, catalogue, told, copy, bound)
    return tuple(ground for fit in folder.part.fits for ground in case.grounds_of(fit))


@dataclass(frozen=True, slots=True)
class _Case:
    """One part with everything that its facts are drawn from."""

    folder: PartFolder
    part: Part
    catalogue: Catalogue
    told: History
    copy: Copy
    bound: dict[int, Bound]
    """What each permit binds against what is there now, by the permit's place in the record."""

    def grounds_of(self, fit: Fit) -> Iterable[Ground]:
        now = basis_now(self.part, self.catalogue)
        own = self.part.revision
        for vehicles, permits in _groups(fit, self.catalogue, self.told.permits):
            common = self.common_facts(fit, now) | self.ending_facts(permits, own)
            # What was approved of an earlier revision says nothing of this one, where this one has a permit of its own.
            speaking = [permit for permit in permits if permit.event.revision == own] or permits
            facts = tuple(common | self.permit_facts(permit, fit, now) for permit in speaking)
            none = common | self.no_permit_facts()
            yield Ground(fit.fleet, fit.place, vehicles, fit.per_vehicle, facts or (none,))
            yield from self.old_labels(fit, vehicles, permits, now)

    def old_labels(
        self, fit: Fit, vehicles: tuple[str, ...], permits: tuple[Standing, ...], now: Basis
    ) -> Iterable[Ground]:
        """Stock printed before a change keeps the verdict of its own revision, told by its label.

        It is judged by what it was made of and for, not by what the part is made of now. Where no permit of that
        revision stands any more, its label is told as what must not be fitted.
        """
        for revision in self.told.revisions:
            if revision == self.part.revision:
                continue
            own = [
                permit for permit in permits if permit.event.revision == revision and self.is_earlier(permit)
            ]
            ending = self.ending_facts(permits, revision)
            facts = tuple(
                self.common_facts(fit, then) | ending | self.permit_facts(permit, fit, then, own_text=True)
                for permit in own
                for then in [self.basis_of(permit, now)]
            )
            # The stage tells how the part stands, not the pieces of an earlier revision.
            label: dict[str, FactValue] = {"label_revision": revision, "stage": None, "stage_since": None}
            none = self.common_facts(fit, now) | ending | self.no_permit_facts() | label
            yield Ground(fit.fleet, fit.place, vehicles, fit.per_vehicle, facts or (none,), revision)

    def is_earlier(self, permit: Standing) -> bool:
        """Whether the part has changed its revision since, and is still the same part."""
        changed = {change.what for change in self.bound[permit.index].changes}
        return "revision" in changed and "number" not in changed

    def basis_of(self, permit: Standing, now: Basis) -> Basis:
        return basis_then(from_record(permit.event.approved_as), now, self.catalogue)

    def common_facts(self, fit: Fit, basis: Basis) -> dict[str, FactValue]:
        return self.part_facts() | self.certificate_facts(basis) | self.fire_facts(fit, basis)

    def part_facts(self) -> dict[str, FactValue]:
        mistake = next((each for each in self.folder.problems if each.severity is Severity.ERROR), None)
        doubt = next((each for each in self.folder.problems if each.code in MODEL_DOUBTS), None)
        if mistake is None and self.catalogue.depot is None:
            mistake = next(
                (each for each in self.catalogue.problems if each.where.file == DEPOT_FILE), NO_DEPOT
            )
        return {
            "mistake": f"{mistake.where}: {mistake.says}" if mistake else None,
            "judged_significant": "yes" if self.is_significant() else None,
            "model_doubt": doubt.code if doubt else None,
            "stage": self.told.stage,
            "stage_since": _iso(self.told.since),
            "built_on": self.copy.built_on.isoformat(),
            "max_copy_age_days": str(self.copy.max_copy_age_days),
            **OF_THE_TABLET,
        }

    def ending_facts(self, permits: tuple[Standing, ...], revision: str) -> dict[str, FactValue]:
        """The part's withdrawal and supersession, until a later approval speaks of these vehicles and this revision.

        An ending takes every permit before it away, so whatever stands came later.
        """
        spoken = any(not permit.is_trial and permit.event.revision == revision for permit in permits)
        endings = () if spoken else self.told.endings
        withdrawn = next((each for each in reversed(endings) if isinstance(each, Withdrawn)), None)
        superseded = next((each for each in reversed(endings) if isinstance(each, Superseded)), None)
        return {
            "withdrawn_on": _iso(withdrawn.on) if withdrawn else None,
            "withdrawn_for": withdrawn.reason if withdrawn else None,
            "superseded_on": _iso(superseded.on) if superseded else None,
            "superseded_by": superseded.superseded_by if superseded else None,
        }

    def is_significant(self) -> bool:
        """Whether the proposer judged the change significant although the customer alone approves it.

        Regulation (EU) 402/2013 Art. 4 and 5: a significant change goes through the risk management process.
        """
        screening = self.folder.approval.screening if self.folder.approval else None
        judged_so = screening is not None and screening.judged_significant is Answer.YES
        return judged_so and self.told.route is Route.CUSTOMER

    def certificate_facts(self, basis: Basis) -> dict[str, FactValue]:
        issued = [
            each
            for each in (basis.material.certificates if basis.material else ())
            if self.is_kept(each) and each.issued_on <= self.copy.built_on
        ]
        best = longest(issued)
        return {
            "certificate": f"{best.reference} (type {best.type})" if best else None,
            "certificate_until": _until(best),
        }

    def is_kept(self, evidence: Certificate | FireTest) -> bool:
        """Whether the evidence file of the material is there, not empty, and the file that was recorded."""
        file = self.catalogue.material_files.get(evidence.file)
        return file is not None and file.size_bytes > 0 and file.sha256 == evidence.sha256

    def fire_facts(self, fit: Fit, basis: Basis) -> dict[str, FactValue]:
        fleet = self.catalogue.fleets.get(fit.fleet)
        need = fire_need(basis.fire, fleet) if fleet else None
        tests = [
            each
            for each in (basis.material.fire_tests if basis.material else ())
            if self.is_kept(each) and each.tested_on <= self.copy.built_on
        ]
        report = report_for(need, tests) if need else None
        exemption = basis.fire.exemption if basis.fire else None
        stated = exemption if exemption and self.is_stated(exemption) else None
        return {
            "fire_set": "known" if need else None,
            "fire_need": f"{need.requirement_set}, {need.hazard_level}, {need.thinnest_wall_mm:g} mm"
            if need
            else None,
            "fire_kind": "statement" if stated else ("report" if report else None),
            "fire_report": stated.reference if stated else _fire_report(report),
            "fire_until": _until(stated if need and stated else report),
        }

    def is_stated(self, exemption: FireExemption) -> bool:
        """Whether the fire engineer's statement is kept as recorded, and of a day that has come."""
        file = self.folder.files.get(exemption.evidence.file)
        kept = file is not None and file.size_bytes > 0 and file.sha256 == exemption.evidence.sha256
        return kept and exemption.on <= self.copy.built_on

    def permit_facts(
        self, permit: Standing, fit: Fit, basis: Basis, *, own_text: bool = False
    ) -> dict[str, FactValue]:
        """own_text: the pieces are those that the permit binds, whatever the part has become since."""
        bound = self.bound[permit.index]
        part = () if own_text else tuple(change.what for change in bound.changes)
        there = place_changes_of(permit, fit.fleet, fit.place, self.catalogue)
        weighty = dict.fromkeys(what for change in there or () if (what := weight_of(change)))
        changed = (*part, *weighty)
        named = tuple(name_of(change) for change in there or () if weight_of(change) is None)
        return {
            "permit": "trial" if permit.is_trial else "approval",
            "permit_from": _iso(permit.event.on),
            "permit_until": OPEN_END if permit.open_ended else _iso(permit.valid_until),
            "permit_reference": permit.event.reference,
            "permit_revision": permit.event.revision,
            "permit_evidence": "kept" if permit.evidence_kept else None,
            "same_as_approved": None if bound.text is None else ("no" if changed else "yes"),
            "changed": changed,
            "place_as_approved": None if there is None else ("no" if named else "yes"),
            "place_changed": named,
            "route": self.told.route,
            "authority": _authority(basis, self.folder.approval, permit),
            "conditions": tuple(permit.conditions),
        }

    def no_permit_facts(self) -> dict[str, FactValue]:
        empty: dict[str, FactValue] = dict.fromkeys(
            (
                "permit",
                "permit_from",
                "permit_until",
                "permit_reference",
                "permit_revision",
                "permit_evidence",
            )
        )
        nothing: dict[str, FactValue] = {
            "same_as_approved": None,
            "place_as_approved": None,
            "place_changed": (),
            "changed": (),
            "authority": None,
            "conditions": (),
        }
        return empty | nothing | {"route": self.told.route}


def _groups(
    fit: Fit, catalogue: Catalogue, permits: list[Standing]
) -> Iterable[tuple[tuple[str, ...], tuple[Standing, ...]]]:
    """The vehicles of a fit, cut into groups that the same permits speak of; newest permit first."""
    fleet = catalogue.fleets.get(fit.fleet)
    every = vehicles_in(fit.vehicles) or (fleet.numbers if fleet else ())
    groups: dict[tuple[int, ...], list[int]] = defaultdict(list)
    for vehicle in every:
        speaking = (covers(permit.event.scope, fit.fleet, fit.place, vehicle) for permit in permits)
        groups[tuple(index for index, speaks in enumerate(speaking) if speaks)].append(vehicle)
    if not every:
        yield (), ()
    for indexes, vehicles in groups.items():
        yield as_ranges(vehicles), tuple(permits[i] for i in reversed(indexes))


def _authority(basis: Basis, approval: Approval | None, permit: Standing) -> str:
    """How a safety-role part stands with the authority: the customer's word alone is never enough."""
    if not basis.is_safety:
        return "not needed"
    if permit.authority_asked:
        return "approved" if isinstance(permit.event, Approved) else "asked"
    return "waived" if approval and approval.waiver else "missing"


def _fire_report(report: FireTest | None) -> str | None:
    return f"{report.report} ({report.standard})" if report else None


def _iso(day: date | None) -> str | None:
    return day.isoformat() if day else None


def _until(paper: Paper | None) -> str | None:
    """Until when a paper counts, as the table of questions reads it."""
    last = last_day(paper) if paper else None
    return OPEN_END if last == date.max else _iso(last)
