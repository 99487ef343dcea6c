"""Of which batches is no piece to be fitted anywhere, since it was printed otherwise than what is approved?"""

from generator.rules.grounds import Ground
from generator.rules.sheet import Sheet
from generator.rules.verdicts import Judgement, Verdict, judged


def unlike_batches(sheet: Sheet) -> frozenset[str]:
    """By their numbers: wherever their label may be fitted, a permit that speaks there binds something else; where it may be fitted nowhere, everywhere."""
    judged_so = tuple(zip(sheet.grounds, sheet.judgements, strict=True))
    differing = {name for ground, _ in judged_so for pieces in ground.pieces for name, each in pieces.items() if each.piece_same == "no"}
    return frozenset(name for name in differing if _is_unlike(name, judged_so))


def _is_unlike(name: str, judged_so: tuple[tuple[Ground, Judgement], ...]) -> bool:
    own = [(ground, said) for ground, said in judged_so if any(name in each and each[name].piece_revision == "own" for each in ground.pieces)]
    usable = [each for each in own if each[1].verdict is not Verdict.DO_NOT_FIT]
    return bool(own) and all(_differs_there(name, ground, said) for ground, said in usable or own)


def _differs_there(name: str, ground: Ground, said: Judgement) -> bool:
    """Of permits in force the most careful counts; where none is, the kindest tells what is missing (verdicts.py)."""
    day = said.facts.built_on
    told = [
        (judged(facts, day).is_in_force, pieces[name].piece_same == "no")
        for facts, pieces in zip(ground.permits, ground.pieces, strict=True)
        if name in pieces
    ]
    in_force = [differs for is_in_force, differs in told if is_in_force]
    return any(in_force) if in_force else all(differs for _, differs in told)
