"""May this very piece be fitted? What its batch says of it, for the table of questions (rules/verdicts.py).

Without a batch, the answer is of whatever piece comes into a hand: of a batch that is stopped one may lie on the shelf, come
off a vehicle, or lie in a drawer since it came off. So may one of a batch that nobody has released yet, for a box is no lock.
As long as one of either is about, somebody has to say which batch it is of.
"""

from collections.abc import Iterable, Mapping
from datetime import date

from generator.records.batches import Batch
from generator.records.catalogue import Catalogue
from generator.records.problems import Severity
from generator.records.production import number_in
from generator.rules.changes import Means
from generator.rules.facts.fields import PieceFacts
from generator.rules.production.doubts import counting_papers, doubts_of
from generator.rules.production.ledger import Balance, ledger
from generator.rules.production.printed import differences
from generator.rules.production.releasing import standing
from generator.rules.production.same_delivery import alike_numbers
from generator.rules.production.states import lifted, recalled_revision, stops_of
from generator.rules.production.unheld import unheld_batches

_MOST_NAMED = 5
UNKNOWN = PieceFacts(piece="unknown", piece_strange="yes")
"""Of a batch that the copy does not have, where the depot keeps batches."""


def of_any(number: str, revision: str, catalogue: Catalogue, day: date, pieces: Mapping[str, PieceFacts]) -> PieceFacts:
    """Of a piece of which nobody has said the batch; `pieces` tells what is known of those of each batch."""
    production = catalogue.production
    if production.is_unsaid(number):
        return unsaid(number, catalogue)
    whole = recalled_revision(number, revision, production.recalls, day)
    if whole:
        return PieceFacts(piece="any", piece_recalled_on=whole.on, piece_recalled_for=whole.why, piece_recall=whole.recall)
    if gone := [name for name, parts in unheld_batches(production).items() if parts is None or number in parts]:
        return PieceFacts(piece=None, piece_less=_some(f"batches/{name}.yml" for name in gone))
    own = {name: each for name, each in production.of_part(number).items() if each.revision == revision}
    if not own:
        return PieceFacts()
    every = ledger(production).balances
    balances = {name: every[name] for name in own}
    if rewritten := [name for name in own if name in production.rewritten and balances[name].is_about]:
        return PieceFacts(piece=None, piece_less=_some(dict.fromkeys(file for name in rewritten for file in production.files_rewritten(name))))
    return _of_what_is_about(pieces, balances)


def unsaid(number: str, catalogue: Catalogue) -> PieceFacts:
    """Nobody can say which pieces of the part are good, and why: each record once, with its place where it has a mistake."""
    why = catalogue.production.unsaid(number)
    unread, less, astray = ([file for file, each in why.items() if each == key] for key in ("unread", "less", "astray"))
    mistakes = (first_mistake(file, catalogue) for file in unread)
    return PieceFacts(piece=None, piece_unread=_some(mistakes), piece_less=_some(less), piece_astray=_some(astray))


def first_mistake(file: str, catalogue: Catalogue) -> str:
    """The place of the first mistake of a file, or the file."""
    places = (each.where for each in catalogue.problems if each.where.file == file and each.severity is Severity.ERROR)
    return str(next(places, file))


def _some(names: Iterable[str]) -> tuple[str, ...]:
    listed = tuple(names)
    return listed if len(listed) <= _MOST_NAMED else (*listed[:_MOST_NAMED], "…")


def mistaken(number: str, catalogue: Catalogue) -> dict[str, PieceFacts]:
    """Pieces of batches whose record is there and cannot be read, by the number on their label; of those that may be of the part."""
    production = catalogue.production
    files = (file for file, why in production.unsaid(number).items() if why == "unread" and production.folder_of(file) == "batches")
    return {
        (name := number_in(file)): PieceFacts(piece="mistaken", piece_strange="yes", piece_batch=name, piece_unread=(first_mistake(file, catalogue),))
        for file in files
    }


def _of_what_is_about(pieces: Mapping[str, PieceFacts], balances: Mapping[str, Balance]) -> PieceFacts:
    """Which batches are stopped, all of them (who reads a few takes the others for good), which are not released, and where pieces of these are about."""
    stopped = tuple(name for name in balances if _is_stopped(pieces[name]))
    waiting = tuple(name for name in balances if name not in stopped and pieces[name].piece_released == "printed" and balances[name].is_about)
    found = [name for name in stopped if _comes_to_hand(pieces[name], balances[name])]
    if not found and not waiting:
        return PieceFacts(piece="any")
    about = [balances[name] for name in (*found, *waiting)]
    left, sits, off = (sum(getattr(each, where) for each in about) for where in ("at_hand", "on_vehicles", "removed"))
    recalls = (recall for name in stopped if (recall := pieces[name].piece_recall))
    return PieceFacts(
        piece="choose" if found else "unreleased",
        piece_batches=stopped,
        piece_unreleased=tuple(_how_many(name, balances[name]) for name in waiting),
        piece_recalls=tuple(dict.fromkeys(recalls)),
        piece_left=str(left) if left else None,
        piece_on_vehicles=str(sits) if sits else None,
        piece_off=str(off) if off else None,
    )


def _how_many(name: str, balance: Balance) -> str:
    """Such as 8 × B-0161; of more than can be, which no sum tells, the batch alone."""
    about = balance.at_hand + balance.on_vehicles + balance.removed
    return f"{about} × {name}" if about else name


def _is_stopped(piece: PieceFacts) -> bool:
    """Whether pieces of it are not to be fitted without asking; one that nobody has judged yet is not stopped, it waits."""
    if piece.piece_recalled_on or piece.piece_released in {"rejected", "void"}:
        return True
    return piece.piece_released != "printed" and (piece.piece_same != "yes" or bool(piece.piece_asked))


def _comes_to_hand(piece: PieceFacts, balance: Balance) -> bool:
    """Whether a piece of one that is stopped is about. What was fitted of a released one that only asks has been asked about."""
    is_only_asked = piece.piece_released == "released" and not piece.piece_recalled_on and piece.piece_same == "yes"
    return bool(balance.left or balance.at_hand) if is_only_asked else balance.is_about


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
    known = _known(name, batch, catalogue)
    return PieceFacts(
        piece=known.piece,
        piece_unread=known.piece_unread,
        piece_less=known.piece_less,
        piece_astray=known.piece_astray,
        piece_printed=known.piece_printed,
        piece_scrapped=known.piece_scrapped,
        piece_on_vehicles=known.piece_on_vehicles,
        piece_off=known.piece_off,
        piece_batch=name,
        piece_label=batch.revision,
        piece_released=said.word,
        piece_released_on=said.event.on if said.event else None,
        piece_recalled_on=first.on if first else None,
        piece_recalled_for=first.why if first else None,
        piece_recall=first.recall if first else None,
        piece_lot=first.lot if first and first.recall else None,
        piece_revision="own" if batch.revision == revision else "other",
        piece_same="no" if other else "yes",
        piece_differs=other,
        piece_asked=(*doubts_of(name, batch, catalogue), *(("differs",) if asked else ())),
        piece_alike=_some(alike_numbers(batch, catalogue.production)),
        piece_papers=tuple(f"{each.type} {each.reference} ({each.lot})" for each in papers),
        piece_files=tuple(f"materials/lots/{each.file}" for each in papers),
        piece_unpapered=None if papers else "none",
        piece_blocked=first.lot if first and not first.recall else None,
        piece_lifted=lifted(name, batch, catalogue.production, day) if first and not first.recall else (),
    )


def _known(name: str, batch: Batch, catalogue: Catalogue) -> PieceFacts:
    if catalogue.production.is_unsaid(batch.part):
        return unsaid(batch.part, catalogue)
    if name in catalogue.production.rewritten:
        return PieceFacts(piece=None, piece_less=_some(catalogue.production.files_rewritten(name)))
    return _where_all_are(ledger(catalogue.production).balances[name]) or PieceFacts(piece="known")


def _where_all_are(balance: Balance) -> PieceFacts | None:
    """Where by the records every piece is, if none can be in a hand: off the shelf, out to be fitted, or more than the books know of."""
    if balance.at_hand or balance.most:
        return None
    sits, off, gone = (str(each) if each > 0 else None for each in (balance.on_vehicles, balance.removed, balance.scrapped))
    return PieceFacts(piece="none left", piece_printed=str(balance.printed), piece_on_vehicles=sits, piece_off=off, piece_scrapped=gone)


def of_batches(number: str, revision: str, approved: str | None, catalogue: Catalogue, day: date) -> Mapping[str, PieceFacts]:
    """The same of every batch of the part, by its number, and of those whose record has a mistake."""
    return mistaken(number, catalogue) | {
        name: of_batch(name, batch, revision, approved, catalogue, day)
        for name, batch in catalogue.production.of_part(number).items()
    }
