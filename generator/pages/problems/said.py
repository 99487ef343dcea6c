"""What does a problem say, and how is it mended, in the words of a language?

The sentences stand in words/en.yml under `problem`, by code and key. Beside `{name}` they know
`{name:number}` with the language's signs, whole or with one decimal; `{name:figure}` as short as it goes;
`{name:list}`, `{name:or}`, `{name:and}`, `{name:also}`, which join a list; `{name:word}`, which looks each value up in
`problem_terms.<name>`; `{name:standard}`, what the table of the fire standard says; `{name:counted}`, of entries such as open_edges=12, each with its term;
`{name?day|days}` what agrees with the number of `{name}`.
`[ … ]` is left out where a placeholder inside it has no fact. Signs of a record, such as its brackets, come as facts.
"""

from collections.abc import Mapping
from dataclasses import dataclass

from generator.pages.fire.of_standard import standard_words
from generator.pages.placeholders import GROUP, PLACEHOLDER, in_number
from generator.pages.wording import Wording
from generator.records.depot import Language
from generator.records.problems import Fact, Problem
from generator.writing.comments import comments

JOINED = ("list", "or", "and", "also")
_BOUNDS = frozenset({"gt", "ge", "lt", "le"})
FORMS = frozenset({"number", "figure", "word", "counted", "standard", *JOINED})


@dataclass(frozen=True, slots=True)
class Said:
    """Where something is wrong, how much it weighs, what it is and what to do."""

    where: str
    severity: str
    says: str
    fix: str


def said(problem: Problem, w: Wording) -> Said:
    """The two sentences of a problem; KeyError for one that has no words, which is a mistake of the program."""
    facts = {name: fact for name, fact in problem.facts if name != "meaning" or _meaning(str(fact), w)}
    says = _filled(w.flat[key_of(problem.code, "says", problem.key)], facts, w)
    fix = _filled(w.flat[key_of(problem.code, "fix", problem.mend)], facts, w)
    if "event" in facts:
        says = w("of_event.numbered", number=str(facts["event"]), says=says)
    if "row" in facts:
        says = w("of_row.numbered", row=str(facts["row"]), column=str(facts.get("column", "")), says=says)
    return Said(str(problem.where), problem.severity, says, fix)


def key_of(code: str, part: str, key: str) -> str:
    """The dotted key of a sentence; a key such as 'CODE.key' names one of another code."""
    other, dot, own = key.partition(".")
    return f"problem.{other}.{part}.{own}" if dot else f"problem.{code}.{part}.{key}"


def one_line(problem: Problem, w: Wording) -> str:
    """Place, weight, code and what is wrong, and on a second line how to mend it."""
    told = said(problem, w)
    severity = w.term("severity", problem.severity)
    return f"{problem.where}: {severity} {problem.code}: {told.says}\n    {w('told.mend')} {told.fix}"


def _filled(text: str, facts: Mapping[str, Fact], w: Wording) -> str:
    kept = GROUP.sub(lambda group: group[1] if _is_known(group[1], facts) else "", text)
    return PLACEHOLDER.sub(lambda found: in_number(found, _value(found[1], "figure" if found[3] else found[2], facts, w)), kept)


def _is_known(text: str, facts: Mapping[str, Fact]) -> bool:
    return all(facts.get(found[1]) not in (None, ()) for found in PLACEHOLDER.finditer(text))


def _value(name: str, form: str | None, facts: Mapping[str, Fact], w: Wording) -> str:
    fact = facts.get(name)
    if fact is None:
        return w("missing")
    values = [_one(name, form, each, w) for each in (fact if isinstance(fact, tuple) else (fact,))]
    return str(w.flat[f"joined.{form if form in JOINED else 'list'}"]).join(values)


def _one(name: str, form: str | None, value: str | float, w: Wording) -> str:
    if isinstance(value, int | float):
        return w.number(value, int(isinstance(value, float))) if form == "number" else _figure(name, form, value, w)
    if form == "counted":
        thing, _, count = value.partition("=")
        return w("told.counted", thing=_term(name, thing, w), count=w.number(int(count)))
    if form == "standard":
        return standard_words(value, w)
    return _term(name, value, w) if form == "word" else value


def _figure(name: str, form: str | None, value: float, w: Wording) -> str:
    """What is not asked for as a figure stands as in a file, to be typed; but for the bounds of a field, which are read."""
    told = f"{value:g}" if form == "figure" else str(value)
    return told.replace(".", str(w.flat["numbers.decimal"])) if form == "figure" or name in _BOUNDS else told


# What a new part's files say of a field beside it, too.
_OF_COMMENTS = {
    "What it does on the vehicle, in a sentence": "purpose",
    "How the old part fails, as a mechanic would say it": "symptoms",
    "How it stands on the plate, such as 'flat, hook side up'": "orientation",
    "Where one gets it and under which number, such as 'central stores, 40.1187'": "buy_where",
}


def _meaning(said: str, w: Wording) -> str | None:
    """What a field means, in the words of the language; None where it has none, for English would be no help."""
    if w.language == Language.ENGLISH:
        return said
    if said in _OF_COMMENTS:
        return str(getattr(comments(Language(w.language)), _OF_COMMENTS[said]))
    found = w.flat.get(f"problem_terms.meaning.{said}")
    return str(found) if found else None


def _term(name: str, value: str, w: Wording) -> str:
    if name == "meaning":
        return _meaning(value, w) or value
    return str(w.flat.get(f"problem_terms.{name}.{value}", value))
