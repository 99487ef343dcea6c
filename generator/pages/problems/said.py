"""What does a problem say, and how is it mended, in the words of a language?

The sentences stand in words/en.yml under `problem`, by code and key. Beside `{name}` they know
`{name:number}` with the language's signs, whole or with one decimal; `{name:figure}` as short as it goes;
`{name:list}`, `{name:or}`, `{name:and}`, `{name:also}`, which join a list; `{name:word}`, which looks each value up in
`problem_terms.<name>`; `{name:counted}`, of entries such as open_edges=12, each with its term.
`[ … ]` is left out where a placeholder inside it has no fact. Signs of a record, such as its brackets, come as facts.
"""

import re
from collections.abc import Mapping
from dataclasses import dataclass

from generator.pages.wording import Wording
from generator.records.problems import Fact, Problem

_GROUP = re.compile(r"\[([^\[\]]*)\]")
PLACEHOLDER = re.compile(r"\{(\w+)(?::(\w+))?\}")
JOINED = ("list", "or", "and", "also")
FORMS = frozenset({"number", "figure", "word", "counted", *JOINED})


@dataclass(frozen=True, slots=True)
class Said:
    """Where something is wrong, how much it weighs, what it is and what to do."""

    where: str
    severity: str
    says: str
    fix: str


def said(problem: Problem, w: Wording) -> Said:
    """The two sentences of a problem; KeyError for one that has no words, which is a mistake of the program."""
    facts = dict(problem.facts)
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
    kept = _GROUP.sub(lambda group: group[1] if _is_known(group[1], facts) else "", text)
    return PLACEHOLDER.sub(lambda found: _value(found[1], found[2], facts, w), kept)


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
        return w.number(value, int(isinstance(value, float))) if form == "number" else _figure(form, value, w)
    if form == "counted":
        thing, _, count = value.partition("=")
        return w("told.counted", thing=_term(name, thing, w), count=w.number(int(count)))
    return _term(name, value, w) if form == "word" else value


def _figure(form: str | None, value: float, w: Wording) -> str:
    return f"{value:g}".replace(".", str(w.flat["numbers.decimal"])) if form == "figure" else str(value)


def _term(name: str, value: str, w: Wording) -> str:
    return str(w.flat.get(f"problem_terms.{name}.{value}", value))
