"""The key at hand: whose it is, and whether what it signs will count."""

from pathlib import Path

from generator.provenance.signing.keygen import name_of, verifier
from generator.provenance.signing.objections import Claim, Known, objection
from generator.provenance.signing.signers import signers_of
from generator.reading.disk import Disk
from generator.records.depot import Depot, SignatureRule
from generator.records.problems import Problem, Severity


def roles_of(key: Path, depot: Depot, root: Path) -> tuple[str, ...]:
    """The roles that the depot's list gives to a key file. Raises CannotSignError."""
    signers = signers_of(depot.signatures, Disk(root)) if depot.signatures else None
    lines = signers.of_name(name_of(key)) if signers else ()
    return tuple(each.id for each in depot.roles if any(line.speaks_for(each.id) for line in lines))


def objection_of(depot: Depot, root: Path, claim: Claim, number: str, texts: tuple[str, ...]) -> Problem | None:
    """What would speak against a signature that is to be written; nothing where the depot has no rule or no list yet."""
    rule = depot.signatures
    signers = signers_of(rule, Disk(root)) if rule and rule.rule is not SignatureRule.NONE else None
    if signers is None:
        return None
    with verifier(signers.content) as asked:
        return objection(claim, number, texts, Known(asked, signers, {}), Severity.ERROR)
