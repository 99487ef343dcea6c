"""Every problem that the code can raise has its words, no sentence is dead, and each is filled with what is there.

Raised is read off the syntax trees: calls of `wrong`, `doubt`, `unusable` and `Unfit` with their keys and facts.
"""

import ast
import json
import re
from collections.abc import Iterator
from dataclasses import dataclass, replace
from functools import cache
from pathlib import Path

import pytest

from generator.pages.problems.said import FORMS as FORMS_OF_WORDS
from generator.pages.problems.said import PLACEHOLDER, key_of, one_line, said
from generator.pages.wording import from_tree, wording
from generator.reading.meshes.endings import MESH_ENDINGS
from generator.reading.validating import FORMS, SIMPLE
from generator.records.problems import Problem, Severity, Where, wrong
from generator.records.schemas import FILES, schema
from tests.fixtures.greek import in_greek
from tests.fixtures.tiny import copied, overlaid, sheets

PACKAGE = Path(__file__).parents[2] / "generator"
ENGLISH = wording("en")
WORDS = {key: text for key, text in ENGLISH.flat.items() if key.startswith("problem.")}
MAY_RAISE = re.compile(r"\b(wrong|doubt|unusable|Unfit|_misfit)\b")
PLACES = {"where", "path", "severity"}  # and the line of a mesh file
# What the keys and facts are that no call names, for they are worked out, by the place of the call.
OF_LIBRARY = {"given", "name", "bare", "line", "gt", "ge", "le", "max_length", "min_length"}
WORKED_OUT = {
    ("disk.py", "why"): ("device", "sign", "end"),
    ("placing.py", "code"): {"ANY"},
    ("validating.py", "what"): SIMPLE,
    ("disk.py", "mend"): {"below 2 MB", "below 16 MB", "below 90 MB"},
    ("language.py", "key"): {"lacks", "unknown", "placeholder", "other form"},
    ("fire.py", "lacks"): {"no thickness", "no mass"},
    ("printing.py", "key"): {"minutes", "grams"},
}
ADDED_LATER = {
    "more", "by", "wanted", "able", "line", "near", "names", "reason", "key", "event", "number", "memory", "commit", "day", "place",
}  # by `telling` and `mended`  # fmt: skip
LATER_MENDS = {  # by `mended`
    "LINK01": {"near", "choose", "such as"},
    "APPR23": {"give"},
    "FITTED04": {"take off", "other name"},
    "FITTED05": {"history"},
    "FITTED08": {"take off"},
    "FITTED09": {"take off"},
    "SIZE01": {"measure again"},
    "SIZE02": {"measure again"},
}


@dataclass(frozen=True)
class Raised:
    """A call: its code, the keys it may give, and the names of its facts (None: not known here)."""

    place: str
    code: str
    keys: frozenset[str]
    mends: frozenset[str]
    facts: frozenset[str] | None


def strings(node: ast.expr, file: str) -> set[str]:
    """The texts that an expression may be."""
    match node:
        case ast.Constant(str(text)):
            return {text}
        case ast.IfExp():
            return strings(node.body, file) | strings(node.orelse, file)
        case ast.Name(name) if (file, name) in WORKED_OUT:
            return set(WORKED_OUT[file, name])
        case ast.Name(name):
            return constants(file)[name]
        case ast.Call(ast.Attribute(ast.Name("FORMS"))):
            return {*FORMS.values(), "pattern"}
    raise AssertionError((file, ast.unparse(node)))


@cache
def constants(file: str) -> dict[str, set[str]]:
    """Names that stand for texts: those of a module, of meshes/errors.py, and variables given by a condition."""
    found: dict[str, set[str]] = {}
    sources = [*PACKAGE.rglob(file), PACKAGE / "reading/meshes/errors.py"]
    for source in sources:
        for node in nodes(source):
            for name, value in assigned(node):
                if all(isinstance(each, ast.IfExp | ast.Constant | ast.Name) for each in parts(value)):
                    found.setdefault(name, set()).update(texts(value))
    return found


@cache
def nodes(path: Path) -> tuple[ast.AST, ...]:
    """Those that are looked at: calls and what is given to a name."""
    if not MAY_RAISE.search(text := path.read_text("utf-8")):
        return ()
    return tuple(each for each in ast.walk(ast.parse(text)) if isinstance(each, ast.Call | ast.Assign | ast.AnnAssign))


def assigned(node: ast.AST) -> Iterator[tuple[str, ast.expr]]:
    if isinstance(node, ast.AnnAssign) and isinstance(node.target, ast.Name) and node.value:
        yield node.target.id, node.value
    if isinstance(node, ast.Assign):
        for target in node.targets:
            if isinstance(target, ast.Name):
                yield target.id, node.value
            elif isinstance(target, ast.Tuple) and isinstance(node.value, ast.Tuple):
                pairs = zip(target.elts, node.value.elts, strict=True)
                yield from ((one.id, value) for one, value in pairs if isinstance(one, ast.Name))


def parts(value: ast.expr) -> list[ast.expr]:
    return [*parts(value.body), *parts(value.orelse)] if isinstance(value, ast.IfExp) else [value]


def texts(value: ast.expr) -> set[str]:
    named = {"EXPORT_STL": "export stl"}
    found = {each.value for each in parts(value) if isinstance(each, ast.Constant) and isinstance(each.value, str)}
    return found | {named[each.id] for each in parts(value) if isinstance(each, ast.Name) and each.id in named}


@cache
def raised() -> list[Raised]:
    found = []
    for path in sorted(PACKAGE.rglob("*.py")):
        for node in nodes(path):
            if isinstance(node, ast.Call) and isinstance(node.func, ast.Name):
                found += list(of_call(node, node.func.id, path))
    return found


def of_call(call: ast.Call, name: str, path: Path) -> Iterator[Raised]:
    implied = {"unusable": "MESH03", "Unfit": "REC03", "_misfit": "FIRE02"}
    if name not in ("wrong", "doubt", *implied):
        return
    if path.name == "problems.py" or (path.name == "errors.py" and name == "wrong"):  # where they are made
        return
    arguments = list(call.args)
    codes = {implied[name]} if name in implied else strings(arguments.pop(0), path.name)
    if isinstance(arguments[0], ast.Attribute | ast.Subscript):  # what is handed on is told where it arises
        return
    if name == "_misfit":  # the field of the record comes next; the place is told with it
        arguments = arguments[:1]
    keys = strings(arguments[0], path.name)
    mends = strings(arguments[1], path.name) if len(arguments) > 1 else keys
    names = {each.arg for each in call.keywords if each.arg} - PLACES - ({"line"} if name == "unusable" else set())
    open_ended = any(each.arg is None for each in call.keywords)
    facts = names | ({"name", "given"} if name == "Unfit" else OF_LIBRARY if open_ended else set())
    for code in codes:
        yield Raised(f"{path.name}:{call.lineno}", code, frozenset(keys), frozenset(mends), frozenset(facts))


def test_the_calls_are_found():
    assert len(raised()) > 230
    assert {"MESH03", "REC03", "YAML10", "APPR23", "DEPOT02", "ADD01", "REQ05"} <= {each.code for each in raised()}


def asked_by(sentences):
    return {found[1] for sentence in sentences for found in PLACEHOLDER.finditer(WORDS[sentence])}


def sentences_of(each):
    return {key_of(each.code, "says", key) for key in each.keys} | {key_of(each.code, "fix", mend) for mend in each.mends}


def untold_by(each):
    """Facts that no sentence of it tells."""
    later = {f"problem.{each.code}.fix.{mend}" for mend in LATER_MENDS.get(each.code, ())}
    return each.facts - asked_by(sentences_of(each)) - asked_by(later) - OF_LIBRARY - ADDED_LATER


def test_what_is_raised_has_its_words():
    assert [(each.place, missing) for each in raised() if (missing := sentences_of(each) - set(WORDS))] == []


def test_what_its_words_ask_for_is_there():
    asked = [(each.place, asked_by(sentences_of(each)) - each.facts - ADDED_LATER) for each in raised()]
    assert [(place, missing) for place, missing in asked if missing] == []


def test_no_fact_is_raised_that_no_sentence_tells():
    assert [(each.place, facts) for each in raised() if (facts := untold_by(each))] == []


def test_no_sentence_is_dead():
    alive = {key_of(each.code, "says", key) for each in raised() for key in each.keys}
    alive |= {key_of(each.code, "fix", mend) for each in raised() for mend in each.mends}
    alive |= {f"problem.{code}.fix.{mend}" for code, mends in LATER_MENDS.items() for mend in mends}
    assert set(WORDS) - alive == set()


def test_every_form_of_a_placeholder_is_known():
    forms = {found[2] for text in WORDS.values() for found in PLACEHOLDER.finditer(text)}
    assert forms - {None} <= FORMS_OF_WORDS


def are_brackets_around_what_may_be_left_out(text):
    pieces = [piece.split("]")[0] for piece in text.split("[")[1:]]
    return text.count("[") == text.count("]") and all(PLACEHOLDER.search(piece) for piece in pieces)


def test_brackets_stand_only_around_what_may_be_left_out():
    """A bracket of a record would be taken for one: it comes as a fact."""
    assert [key for key, text in WORDS.items() if not are_brackets_around_what_may_be_left_out(text)] == []


@pytest.mark.parametrize(
    ("problem", "says"),
    [
        (wrong("YAML01", "too long", bytes=1234567), "is 1,234,567 bytes long"),
        (wrong("DISK03", "too large", "smaller photo", megabytes=1234.5), "is 1,234.5 MB large"),
        (wrong("SIZE01", "too large", "micron", size="5 mm", place="cab", most=0.125), "measures 5 mm, too large for cab (at most 0.125 mm)"),
        (wrong("APPR03", "without", what="approved", wanted=["'a'", "'b'"]), "says 'approved' without 'a' or 'b' before it"),
        (wrong("REC02", "no key", "choose", key="x", known=["y"]), "'x' is not a key"),
        (wrong("REC02", "no key", "choose", key="x", inside="{key} [y]", known=["y"]), "'x' is not a key in {key} [y]"),
        (wrong("REC03", "form", "id", name="a", given=""), "a is , which has not the right form"),
        (wrong("APPR02", "to come", on="2026-01-02").telling(event=3), "event 3 is dated 2026-01-02, which is still to come"),
        (wrong("SOUND01", "unsound", "repair", defects=["zero_area_faces=1200", "inside_out=1"]), "is not clean, though its volume is certain: zero area faces (1,200), inside out (1)"),
    ],
)  # fmt: skip
def test_a_sentence_is_filled(problem, says):
    assert said(problem, ENGLISH).says == says


# What a library, the system or the JSON Schema says is theirs; all else of a sentence is ours or the author's.
OF_OTHERS = ("says", "reason", "meaning", "wanted", "byte", "given")
GREEK = from_tree("en", in_greek(ENGLISH.tree))
LATIN = re.compile(r"[A-Za-z]{3,}")
BAD = Path(__file__).parents[1] / "bad"


def words_of_records(root):
    """Everything that an author has written, names of files, and the words that records are made of."""
    files = [each for each in root.rglob("*") if each.is_file()]
    texts = [each.read_text("utf-8", "replace") for each in files if each.suffix in (".yml", ".md", ".svg", ".csv")]
    return set(LATIN.findall(" ".join([*texts, *map(str, files), *keys_of_records(), *MESH_ENDINGS, "photos", "models", "outlines", "svg", "fitted", "csv"])))


@cache
def keys_of_records():
    schemas = [json.dumps({**schema(name), "description": ""}) for name in FILES]
    keys = [word for text in schemas for word in re.findall(r'"(?:const|enum)": (\[[^\]]*\]|[^,}]*)|"(\w+)": {', text)]
    return [" ".join(each) for each in keys]


@pytest.mark.parametrize("mistake", sorted(each for each in BAD.iterdir() if each.is_dir()), ids=lambda each: each.name)
def test_in_greek_letters_no_word_of_ours_is_left(mistake, tmp_path):
    root = overlaid(copied(tmp_path / "depot"), mistake)
    known = words_of_records(root)
    for problem in sheets(root)[1]:
        ours = replace(problem, facts=tuple(fact for fact in problem.facts if fact[0] not in OF_OTHERS))
        line = one_line(ours, GREEK).replace(problem.code, "")
        assert set(LATIN.findall(line)) <= known, line


def test_a_problem_is_compared_by_what_it_is_and_where():
    one = wrong("REC02", "no key", "near", where=Where("a.yml", 3), key="nmae", near="name")
    assert one == wrong("REC02", "no key", "near", where=Where("a.yml", 3), near="name", key="nmae")
    assert one != one.at(Where("a.yml", 4))
    assert one.what == one.at(Where("a.yml", 4)).what
    assert isinstance(one, Problem)
    assert one.severity is Severity.ERROR


@pytest.mark.parametrize(("language", "most"), [("en", "99.99"), ("de", "99,99"), ("da", "99,99")])
def test_the_bound_of_a_field_has_the_languages_decimal_mark(language, most):
    assert most in said(wrong("REC03", "less_than_equal", name="x", given="100", le=99.99), wording(language)).fix
