"""May this very piece be fitted? What its batch says of it, for the table of questions (rules/verdicts.py).

Without a batch, the answer is of whatever piece comes into a hand: of a batch that is stopped one may lie on the shelf, come
off a vehicle, or lie in a drawer since it came off. As long as one is about, somebody has to say which batch it is of.
"""

from collections.abc import Mapping
from datetime import date

from generator.records.batches import Batch
from generator.records.catalogue import Catalogue
from generator.rules.changes import Means
from generator.rules.facts.fields import PieceFacts
from generator.rules.production.doubts import counting_papers, doubts_of
from generator.rules.production.ledger import Balance, ledger
from generator.rules.production.printed import differences
from generator.rules.production.releasing import standing
from generator.rules.production.states import recalled_revision, stops_of

UNKNOWN = PieceFacts(piece="unknown")
"""Of a batch that the copy does not have, where the depot keeps batches."""


def of_any(number: str, revision: str, catalogue: Catalogue, day: date, pieces: Mapping[str, PieceFacts]) -> PieceFacts:
    """Of a piece of which nobody has said the batch; `pieces` tells what is known of those of each batch."""
    production = catalogue.production
    if production.is_unsaid(number):
        return PieceFacts(piece=None)
    whole = recalled_revision(number, revision, production.recalls, day)
    if whole:
        return PieceFacts(piece="any", piece_recalled_on=whole.on, piece_recalled_for=whole.why, piece_recall=whole.recall)
    own = {name: each for name, each in production.of_part(number).items() if each.revision == revision}
    if not own:
        return PieceFacts()
    balances = {name: each for name, each in ledger(production).balances.items() if name in own}
    if any(name in production.rewritten and balances[name].is_about for name in own):
        return PieceFacts(piece=None)
    stopped = tuple(name for name in own if _is_stopped(pieces[name], balances[name]))
    if any(_comes_to_hand(pieces[name], balances[name]) for name in stopped):
        return _asked(stopped, pieces, balances)
    return PieceFacts(piece="any")


def _asked(stopped: tuple[str, ...], pieces: Mapping[str, PieceFacts], balances: Mapping[str, Balance]) -> PieceFacts:
    """Which batches are stopped, all of them (who reads a few takes the others for good), and where pieces of these are about."""
    about = [balances[name] for name in stopped if _comes_to_hand(pieces[name], balances[name])]
    left, sits, off = (sum(max(getattr(each, where), 0) for each in about) for where in ("left", "on_vehicles", "removed"))
    recalls = (recall for name in stopped if (recall := pieces[name].piece_recall))
    return PieceFacts(
        piece="choose",
        piece_batches=stopped,
        piece_recalls=tuple(dict.fromkeys(recalls)),
        piece_left=str(left) if left else None,
        piece_on_vehicles=str(sits) if sits else None,
        piece_off=str(off) if off else None,
    )


def _is_stopped(piece: PieceFacts, balance: Balance) -> bool:
    """Whether pieces of it are not to be fitted without asking; of one that nobody has judged yet, those that left the shelf."""
    if piece.piece_recalled_on or piece.piece_released in {"rejected", "void"}:
        return True
    if piece.piece_released == "printed":
        return bool(balance.out or balance.on_vehicles or balance.removed)
    return piece.piece_same != "yes" or bool(piece.piece_asked)


def _comes_to_hand(piece: PieceFacts, balance: Balance) -> bool:
    """Whether a piece of one that is stopped is about. What was fitted of a released one that only asks has been asked about."""
    is_only_asked = piece.piece_released == "released" and not piece.piece_recalled_on and piece.piece_same == "yes"
    return balance.left != 0 if is_only_asked else balance.is_about


def of_batch(  # noqa: PLR0917
    name: str, batch: Batch, revision: str, approved: str | None, catalogue: Catalogue, day: date
) -> PieceFacts:
    """Of a piece of this batch, held against pieces of `revision` and the text of a permit; None where there is no permit."""
    said = standing(name, batch, catalogue, day)
    stops = stops_of(name, batch, catalogue.production, day)
    papers = counting_papers(batch, catalogue)
    first = stops[0] if stops else None
    found = differences(batch.printed_as, approved) if approved is not None else ()
    other = tuple(each.what for each in found if each.means is Means.VOID)
    asked = tuple(f"differs {each.what}" for each in found if each.means is Means.ASK)
    return PieceFacts(
        piece=None if catalogue.production.is_unsaid(batch.part) or name in catalogue.production.rewritten else "known",
        piece_batch=name,
        piece_label=batch.revision,
        piece_released=said.word,
        piece_released_on=said.event.on if said.event else None,
        piece_recalled_on=first.on if first else None,
        piece_recalled_for=first.why if first else None,
        piece_recall=first.recall if first else None,
        piece_lot=first.lot if first else None,
        piece_revision="own" if batch.revision == revision else "other",
        piece_same="no" if other else "yes",
        piece_differs=other,
        piece_asked=(*doubts_of(name, batch, catalogue), *(("differs",) if asked else ())),
        piece_papers=tuple(f"{each.type} {each.reference} ({each.lot})" for each in papers),
        piece_files=tuple(f"materials/lots/{each.file}" for each in papers),
    )


def of_batches(number: str, revision: str, approved: str | None, catalogue: Catalogue, day: date) -> Mapping[str, PieceFacts]:
    """The same of every batch of the part, by its number."""
    return {
        name: of_batch(name, batch, revision, approved, catalogue, day)
        for name, batch in catalogue.production.of_part(number).items()
    }
