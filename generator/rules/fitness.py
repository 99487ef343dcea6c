"""May this part be fitted? The facts for every fleet, place and group of vehicles, and the verdict on a day."""

from collections import defaultdict
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date

from generator.records.approvals import Answer, Approval, Approved, Route
from generator.records.catalogue import Catalogue, PartFolder
from generator.records.fleets import as_ranges, vehicles_in
from generator.records.materials import Certificate, FireTest
from generator.records.parts import FireExemption, Fit, Part
from generator.records.problems import Problem, Severity, Where
from generator.rules.basis import Basis, basis_now, basis_then
from generator.rules.fingerprint import Change, canonical_text, changes, from_record
from generator.rules.fire import fire_need, report_for
from generator.rules.history import History
from generator.rules.standing import Standing, covers
from generator.rules.verdicts import OPEN_END, Facts, FactValue, Judgement, best_judged

DEPOT_FILE = "depot.yml"
NO_DEPOT = Problem(code="REC01", where=Where(DEPOT_FILE), says="cannot be read", fix="mend it first")
# Warnings about the mesh that a person should settle before anybody fits the part, see rules/plausible.py.
MODEL_DOUBTS = frozenset({"SIZE01", "SIZE02", "SOUND01", "ROOM01"})


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
        return best_judged(self.permits, day)


@dataclass(frozen=True, slots=True)
class Bound:
    """What is approved against what is there now; `text` is None while it cannot be said."""

    text: str | None
    changes: tuple[Change, ...] = ()


def part_text(part: Part, catalogue: Catalogue, folder: PartFolder) -> str | None:
    """The canonical text of the part as it lies in its folder; None where something it binds is missing."""
    material = catalogue.materials.get(part.material)
    if material is None or folder.mesh is None or any(name not in catalogue.makers for name in part.makers):
        return None
    return canonical_text(part, material, catalogue.makers.values(), folder.mesh.sha256)


def grounds(folder: PartFolder, catalogue: Catalogue, told: History, copy: Copy) -> tuple[Ground, ...]:
    """Every fleet, place and group of vehicles that the part fits, with the facts of its permits.

    A part whose record cannot be read has none: its page says "Do not fit" by itself.
    """
    if folder.part is None:
        return ()
    case = _Case(folder, folder.part, catalogue, told, copy, part_text(folder.part, catalogue, folder))
    return tuple(ground for fit in folder.part.fits for ground in case.grounds_of(fit))


@dataclass(frozen=True, slots=True)
class _Case:
    """One part with everything that its facts are drawn from."""

    folder: PartFolder
    part: Part
    catalogue: Catalogue
    told: History
    copy: Copy
    text: str | None
    """The part's canonical text as it lies in its folder."""

    def grounds_of(self, fit: Fit) -> Iterable[Ground]:
        now = basis_now(self.part, self.catalogue)
        for vehicles, permits in _groups(fit, self.catalogue, self.told.permits):
            common = self.common_facts(fit, now)
            facts = tuple(common | self.permit_facts(permit, now) for permit in permits)
            none = common | self.no_permit_facts()
            yield Ground(fit.fleet, fit.place, vehicles, fit.per_vehicle, facts or (none,))
            yield from self.old_labels(fit, vehicles, permits, now)

    def old_labels(
        self, fit: Fit, vehicles: tuple[str, ...], permits: tuple[Standing, ...], now: Basis
    ) -> Iterable[Ground]:
        """Stock printed before a change keeps the verdict of its own revision, told by its label.

        It is judged by what it was made of and for, not by what the part is made of now.
        """
        for permit in permits:
            changed = {change.what for change in bound_by(permit, self.text).changes}
            revision = permit.event.revision
            if revision == self.part.revision or "revision" not in changed or "number" in changed:
                continue
            then = basis_then(from_record(permit.event.approved_as), now, self.catalogue)
            own: dict[str, FactValue] = {"same_as_approved": "yes", "changed": ()}
            facts = self.common_facts(fit, then) | self.permit_facts(permit, then) | own
            yield Ground(fit.fleet, fit.place, vehicles, fit.per_vehicle, (facts,), revision)

    def common_facts(self, fit: Fit, basis: Basis) -> dict[str, FactValue]:
        return self.part_facts() | self.certificate_facts(basis) | self.fire_facts(fit, basis)

    def part_facts(self) -> dict[str, FactValue]:
        mistake = next((each for each in self.folder.problems if each.severity is Severity.ERROR), None)
        doubt = next((each for each in self.folder.problems if each.code in MODEL_DOUBTS), None)
        if mistake is None and self.catalogue.depot is None:
            mistake = next((each for each in self.catalogue.problems if each.where.file == DEPOT_FILE), NO_DEPOT)
        return {
            "mistake": f"{mistake.where}: {mistake.says}" if mistake else None,
            "withdrawn_on": _iso(self.told.withdrawn_on),
            "withdrawn_for": self.told.withdrawn_for,
            "superseded_on": _iso(self.told.superseded_on),
            "superseded_by": self.told.superseded_by,
            "judged_significant": "yes" if self.is_significant() else None,
            "model_doubt": doubt.code if doubt else None,
            "stage": self.told.stage,
            "stage_since": _iso(self.told.since),
            "built_on": self.copy.built_on.isoformat(),
            "max_copy_age_days": str(self.copy.max_copy_age_days),
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
        best = max(issued, key=_lasting, default=None)
        return {
            "certificate": f"{best.reference} (type {best.type})" if best else None,
            "certificate_until": (_iso(best.valid_until) or OPEN_END) if best else None,
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
            "fire_until": OPEN_END if need and stated else _fire_until(report),
        }

    def is_stated(self, exemption: FireExemption) -> bool:
        """Whether the fire engineer's statement is kept as recorded, and of a day that has come."""
        file = self.folder.files.get(exemption.evidence.file)
        kept = file is not None and file.size_bytes > 0 and file.sha256 == exemption.evidence.sha256
        return kept and exemption.on <= self.copy.built_on

    def permit_facts(self, permit: Standing, basis: Basis) -> dict[str, FactValue]:
        bound = bound_by(permit, self.text)
        return {
            "permit": "trial" if permit.is_trial else "approval",
            "permit_from": _iso(permit.event.on),
            "permit_until": OPEN_END if permit.open_ended else _iso(permit.valid_until),
            "permit_reference": permit.event.reference,
            "permit_revision": permit.event.revision,
            "permit_evidence": "kept" if permit.evidence_kept else None,
            "same_as_approved": None if bound.text is None else ("no" if bound.changes else "yes"),
            "changed": tuple(change.what for change in bound.changes),
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
        speaking = [permit for permit in permits if covers(permit.event.scope, fit.fleet, fit.place, vehicle)]
        groups[tuple(permits.index(permit) for permit in _in_force(speaking))].append(vehicle)
    if not every:
        yield (), ()
    for indexes, vehicles in groups.items():
        yield as_ranges(vehicles), tuple(permits[i] for i in reversed(indexes))


def _in_force(speaking: list[Standing]) -> list[Standing]:
    """Permits of one vehicle without those whose revision was approved anew: the newest conditions count."""
    return [
        permit
        for i, permit in enumerate(speaking)
        if not any(
            not later.is_trial and later.event.revision == permit.event.revision
            for later in speaking[i + 1 :]
        )
    ]


def bound_by(permit: Standing, text: str | None) -> Bound:
    """What has changed since the permit was given, line by line."""
    return Bound(text, changes(from_record(permit.event.approved_as), text) if text is not None else ())


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


def _fire_until(report: FireTest | None) -> str | None:
    if report is None:
        return None
    return _iso(report.valid_until) or (OPEN_END if report.open_ended else None)


def _lasting(certificate: Certificate) -> tuple[bool, date]:
    return (certificate.valid_until is None, certificate.valid_until or certificate.issued_on)
