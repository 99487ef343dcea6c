"""Why does a signature not count? ssh-keygen says that it does not; here its reason is looked for."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date

from generator.provenance.signing.keygen import Verifier
from generator.provenance.signing.signature import NAMESPACE, Signature, key_name, signature_in
from generator.provenance.signing.signers import Signer, Signers
from generator.records.approvals import Event
from generator.records.problems import Problem, Severity, wrong


@dataclass(frozen=True, slots=True, kw_only=True)
class Claim:
    """An event's signature, and what it should be one of."""

    index: int
    role: str
    day: date
    text: str
    signature: str

    @classmethod
    def of(cls, index: int, event: Event, text: str) -> "Claim":
        return cls(index=index, role=event.by, day=event.on, text=text, signature=event.signed or "")


@dataclass(frozen=True, slots=True)
class Known:
    """What a signature is looked at against."""

    asked: Verifier
    signers: Signers
    elsewhere: Mapping[str, tuple[tuple[str, int], ...]]
    """By signature, the parts and events that it stands at."""


def objection(
    claim: Claim, number: str, texts: tuple[str, ...], known: Known, severity: Severity
) -> Problem | None:
    """What speaks against a signature in the record of part `number`; None where ssh-keygen finds it good.

    texts: what each event of the record would have to sign. severity: of what speaks against the key; a signature of
    other words contradicts the record, and is always an error.
    """
    signature = signature_in(claim.signature)
    if signature is None:  # ssh-keygen passes over what stands behind one
        return wrong("SIGN02", "no signature")
    reason = known.asked.objection(claim.text, claim.signature, claim.role, claim.day)
    if reason is None:
        return None
    if signature.namespace != NAMESPACE:
        return wrong("SIGN02", "other namespace", namespace=signature.namespace, wanted=NAMESPACE)
    if not known.asked.fits(claim.text, claim.signature):
        return _of_other_words(claim, number, texts, known)
    return _of_key(claim, signature, known.signers, reason, severity)


def _of_other_words(claim: Claim, number: str, texts: tuple[str, ...], known: Known) -> Problem:
    for other, index in known.elsewhere.get(claim.signature, ()):
        if other != number:
            return wrong("SIGN02", "other part", other=other, number=index + 1)
    for index, text in enumerate(texts):
        if index != claim.index and known.asked.fits(text, claim.signature):
            return wrong("SIGN02", "other event", number=index + 1)
    return wrong("SIGN02", "tampered")


def _of_key(claim: Claim, signature: Signature, signers: Signers, reason: str, severity: Severity) -> Problem:
    """The signature is one of these words: then it is the key that may not say them, or not on that day."""
    lines, key = signers.of_key(signature.key), key_name(signature.key)
    own = [each for each in lines if each.speaks_for(claim.role)]
    if not lines:
        return wrong("SIGN03", "unknown key", severity=severity, key_name=key, role=claim.role)
    if not own:
        has = ",".join(name for each in lines for name in each.principals)
        return wrong("SIGN03", "other role", severity=severity, key_name=key, role=claim.role, has=has)
    if not any(each.signs_events for each in own):
        return wrong("SIGN03", "not for events", severity=severity, key_name=key, wanted=NAMESPACE)
    return _of_time(claim.day, own, severity) or wrong("SIGN04", "refused", severity=severity, reason=reason)


def _of_time(day: date, own: list[Signer], severity: Severity) -> Problem | None:
    able = [each for each in own if each.signs_events]
    if all(each.before and not each.lasts_on(day) for each in able):
        ended = max(each.before for each in able if each.before)
        return wrong("SIGN03", "expired", severity=severity, on=day, until=ended.date())
    if not any(each.has_begun(day) and each.lasts_on(day) for each in able):
        begins = min(each.after for each in able if each.after)
        return wrong("SIGN03", "not yet", severity=severity, on=day, since=begins.date())
    return None
