"""Which events are not signed as the depot wants them, and why?

With the rule "required" all of it are errors, so that the part is not fitted. With "advised" they are warnings, save what
contradicts the record: a signature that is none, or one of other words, is an error there too.
"""

from collections import defaultdict
from collections.abc import Iterable, Iterator
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass, replace
from datetime import date
from pathlib import Path

from generator.provenance.signing import keygen
from generator.provenance.signing.keygen import verifier
from generator.provenance.signing.objections import Claim, Known, objection
from generator.provenance.signing.signers import Signers, signers_of
from generator.reading.disk import Disk
from generator.records.approvals import Event
from generator.records.catalogue import Catalogue, PartFolder
from generator.records.depot import Depot, SignatureRule, Signatures
from generator.records.problems import Problem, Severity, Where, doubt, in_order, wrong
from generator.rules.chain import texts_to_sign
from generator.systems.store import Key, Store, key_of

UNSIGNED = "SIGN01"
_GOOD = {"verified": b"1\n"}


@dataclass(frozen=True, slots=True, kw_only=True)
class Signed:
    """A record with its signatures: what each event would have to sign, and which claim to have."""

    folder: PartFolder
    texts: tuple[str, ...]
    claims: tuple[Claim, ...]
    unsigned: tuple[int, ...]


def signatures_checked(catalogue: Catalogue, root: Path, store: Store) -> Catalogue:
    """The catalogue with all that is wrong with its signatures, each problem beside the part that it speaks of.

    Only ssh-keygen judges, without any network; what it found good is kept in the store by all that it was asked.
    """
    rule = catalogue.depot.signatures if catalogue.depot else None
    if catalogue.depot is None or rule is None or rule.rule is SignatureRule.NONE:
        return catalogue
    disk = Disk(root)
    signers = signers_of(rule, disk)
    records = [_signed(folder, rule.since) for folder in catalogue.parts]
    found = {folder: in_order(new) for folder, new in _checked(records, signers, rule, store)}
    parts = [
        replace(each, problems=in_order([*each.problems, *found[each.folder]])) if found.get(each.folder) else each
        for each in catalogue.parts
    ]
    of_list = [*disk.taken(), *_of_list(signers, rule, catalogue.depot, root)]
    return replace(catalogue, parts=tuple(parts), problems=in_order([*catalogue.problems, *of_list]))


def may_be_unsigned(problem: Problem) -> bool:
    """Whether it only lacks a signature, which may come later than the next event."""
    return problem.code == UNSIGNED


def is_due(event: Event, since: date | None) -> bool:
    """Whether an event is one that needs a signature and has none."""
    return event.signed is None and (since is None or event.on >= since)


def _signed(folder: PartFolder, since: date | None) -> Signed:
    events = folder.approval.events if folder.approval else ()
    texts = texts_to_sign(folder.number, events)
    return Signed(
        folder=folder,
        texts=texts,
        claims=tuple(Claim.of(i, event, texts[i]) for i, event in enumerate(events) if event.signed),
        unsigned=tuple(i for i, event in enumerate(events) if is_due(event, since)),
    )


def _checked(
    records: list[Signed], signers: Signers | None, rule: Signatures, store: Store
) -> Iterator[tuple[str, list[Problem]]]:
    """Each folder with what is wrong with its signatures."""
    severity = Severity.ERROR if rule.rule is SignatureRule.REQUIRED else Severity.WARNING
    ready = signers is not None and keygen.is_there()
    found: defaultdict[str, list[Problem]] = defaultdict(list)
    to_verify: list[tuple[Signed, Key]] = []
    for record in records:
        if record.unsigned:
            found[record.folder.folder].append(_unsigned(record, severity))
        if not record.claims:
            continue
        key = _key(record, signers) if signers else None
        if key and store.get(key) == _GOOD:
            continue
        if key and ready:
            to_verify.append((record, key))
        else:
            where = record.folder.event_places[record.claims[0].index]
            found[record.folder.folder].append(_unverified(signers, rule, severity).at(where))
    if signers and ready and to_verify:
        for record, new in _verified(to_verify, records, signers, severity, store):
            found[record.folder.folder] += new
    yield from found.items()


def _unsigned(record: Signed, severity: Severity) -> Problem:
    """All unsigned events of a record in one, at the first of them."""
    first, events = record.unsigned[0], record.folder.approval.events if record.folder.approval else ()
    roles = dict.fromkeys(events[i].by for i in record.unsigned)
    numbers = [str(i + 1) for i in record.unsigned]
    where, number = record.folder.event_places[first], record.folder.number
    mend = "sign" if len(roles) == 1 else "sign each"
    return wrong(UNSIGNED, "unsigned", mend, where=where, severity=severity, events=numbers, roles=roles, number=number)


def _unverified(signers: Signers | None, rule: Signatures, severity: Severity) -> Problem:
    if signers is None:
        return wrong("SIGN04", "no list", severity=severity, file=rule.allowed_signers)
    return wrong("SIGN04", "no program", severity=severity)


def _key(record: Signed, signers: Signers) -> Key:
    """Under all that was asked: the list, and of each claim who, when, what and the signature."""
    asked = [part for claim in record.claims for part in (claim.role, claim.day.isoformat(), claim.text, claim.signature)]
    return key_of("signatures verified", signers.content, *asked)


def _verified(
    to_verify: list[tuple[Signed, Key]], records: list[Signed], signers: Signers, severity: Severity, store: Store
) -> Iterator[tuple[Signed, list[Problem]]]:
    """Ask ssh-keygen, several at a time, for it takes some milliseconds each; keep what is good throughout."""
    elsewhere, pool = _where_each_stands(records), ThreadPoolExecutor()
    with verifier(signers.content) as asked:
        try:
            known = Known(asked, signers, elsewhere)
            jobs = [pool.submit(_of_record, record, known, severity) for record, _ in to_verify]
            for (record, key), job in zip(to_verify, jobs, strict=True):
                found = job.result()
                if not found:
                    store.put(key, _GOOD)
                yield record, found
        finally:
            pool.shutdown(cancel_futures=True)  # else whoever stops it waits for all that has not begun


def _of_record(record: Signed, known: Known, severity: Severity) -> list[Problem]:
    found = [(claim, objection(claim, record.folder.number, record.texts, known, severity)) for claim in record.claims]
    places = record.folder.event_places
    return [each.at(places[claim.index]).telling(event=claim.index + 1) for claim, each in found if each]


def _where_each_stands(records: Iterable[Signed]) -> dict[str, tuple[tuple[str, int], ...]]:
    """By signature, the parts and events that it stands at: one that stands twice was copied."""
    found: defaultdict[str, list[tuple[str, int]]] = defaultdict(list)
    for record in records:
        for claim in record.claims:
            found[claim.signature].append((record.folder.number, claim.index))
    return {signature: tuple(places) for signature, places in found.items()}


def _of_list(signers: Signers | None, rule: Signatures, depot: Depot, root: Path) -> Iterator[Problem]:
    """What is wrong with the list itself, in its place."""
    is_error = rule.rule is SignatureRule.REQUIRED
    severity = Severity.ERROR if is_error else Severity.WARNING
    if signers is None:
        where = Disk(root).yaml("depot.yml").where(("signatures", "allowed_signers"))
        yield wrong("SIGN04", "no list", where=where, severity=severity, file=rule.allowed_signers)
        return
    for line in signers.unread:
        yield wrong("SIGN05", "no line", where=Where(rule.allowed_signers, line), severity=severity)
    roles = [each.id for each in depot.roles]
    for signer in signers.signers:
        if not any(signer.speaks_for(role) for role in roles):
            where, named = Where(rule.allowed_signers, signer.line), ",".join(signer.principals)
            yield doubt("SIGN05", "no role", where=where, principals=named, roles=roles)
