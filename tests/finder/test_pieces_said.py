"""May I fit *this piece*? However loosely a query speaks of one, no part stands as if none had been spoken of; and sizes, vehicles and counts are none.

The cases are from memory of what is typed with gloves, spoken over a running engine and scanned; only that *strange*, *label* and so on are
never *Fit it* is held elsewhere, where verdicts are (test_batches.py).
"""

from collections.abc import Iterator
from typing import Any

import pytest

from generator.finder.engine import Answered, Finder
from generator.pages.finder.query_words import asked_in
from generator.records.depot import Language
from generator.records.labels import LabelOf, batch_read
from tests.finder import catalogues

KINDS = {"strange", "label", "stopped", "lot", "unlabelled", "unread"}
"""Of a piece of which nobody can say that it is a known one."""
NAMES = {"batch", *KINDS}

PARTS = {
    "TV-0417": {"name": "Window-latch knob", "revision": "A", "replaces": [{"number": "4-117-0417", "kind": "maker's number"}], "batches": [["B-0105", "A"], ["B-0127", "A"], ["B-0150", "A"]], "box_mm": [42, 36, 18], "size_mm": [42, 36, 18]},
    "TV-0105": {"name": "Sun-blind end cap, right", "revision": "A", "batches": [["B-0125", "A"], ["B-0151", "A"], ["B-0157", "A"]], "box_mm": [120, 40, 15], "size_mm": [120, 40, 15]},
    "TV-0104": {"name": "Sun-blind end cap, left", "batches": [["B-0152", "A"]], "box_mm": [120, 40, 15], "size_mm": [120, 40, 15]},
    "TV-0248": {"name": "Mirror-arm shroud", "batches": [["B-0120", "A"], ["B-0405", "A"]], "box_mm": [140, 60, 44], "size_mm": [140, 60, 44]},
}  # fmt: skip


def catalogue() -> dict[str, Any]:
    language, floor = asked_in("en", tuple(map(str, Language)))
    data = catalogues.small("en", PARTS, [])
    fleets = [{"id": "TR4", "name": "TR4", "vehicles": ["401-412"]}]
    return data | {"language": language, "floor": floor, "fleets": fleets, "things": {"L-0009": {"batches": ["B-0151", "B-0152"], "is_stopped": True, "is_recall": False, "number": "3388"}, "L-0010": {"batches": ["B-0127"], "is_stopped": True, "is_recall": False, "number": "K 7741/B"}}}


@pytest.fixture(scope="module")
def finder() -> Iterator[Finder]:
    with Finder(catalogue(), catalogues.SCRIPTS) as found:
        yield found


def kinds_of(told: Answered) -> list[set[str]]:
    """Of each part that was found, what its reasons say of a piece."""
    return [{str(reason.detail) for reason in each.reasons if reason.kind == "number"} & NAMES for each in told.found]


TWO = [
    "B-0150/B-0151", "B-0151 B-0150", "B-0150 & B-0151", "B-0150, B-0151 and B-0152", "B-0150-B-0151", "B-0150 to 0152", "B-0150..52", "B-0150…52", "B-0150B-0151", "B0150B0151", "B-0150 and 51", "B-0150 und 0151", "B-0150 og 51",
    "B-0150 or B-0151", "B-0150 oder 51", "B-0150 eller B-0151", "B-0150 bis B-0152", "B-0150 bis 52", "B-0150 til 0152", "B-0150 - 0152", "B-0150+51", "B-0150, 51", "B-0150/51",
    "B-0150 B-0127",
]  # fmt: skip
APART = [
    "b 1 5 1", "B 15", "B 1 51", "b 15 1", "B 0 1 5 1", "B-0 151", "B-01 51", "B - 0 1 5 1", "B-01 5 1", "b one five one", "be et fem et", "batch one five one", "batch 1 5 1", "Los 1 51", "Charge eins fünf eins",
    "batch et fem et", "serie et fem et",
]  # fmt: skip
MISTYPED = [
    "BB-0151", "B--0151", "B-01511", "0B-151", "0B-0151", "BB151", "B-O150", "B0l5l", "8-0151", "BO151", "NB-0151", "B-O15O", "b-o150", "B-0I50", "B-0150x", "B-015", "B;151", "B ,0151", "B*151",
]  # fmt: skip
NUMBERED = [
    "#151", "# 151", "nr 151", "no. 151", "Nr. 151", "№ 151", "N° 151", "number 151", "Nummer 151", "piece 151", "Teil 151", "Stück 151", "stk 151", "stk. 151", "spool 151", "Spule 151", "label 151", "Etikett 151", "mærkat 151",
    "marked 151", "stamped 0151", "piece no. 151", "Stück Nr. 151", "stykke nr. 151", "piece #151", '"0151"', "S/N 151", "serial 151", "print 151", "job no. 151",
]  # fmt: skip
BESIDE = [" (151)", "/151", "-151", ":0151", "_151", ".151", "+151", " [151]", " '151'", ' "151"', "*151", " {151}", "|151", " – 151", ", 0151", " = 151", " rulle 151", " Rolle 151", " et fem et", " eins fünf eins", " one five one"]
ANY = [
    "some batch", "irgendeine Charge", "en eller anden batch", "en eller anden serie", "another batch", "the other one", "next batch", "any batch", "this batch", "the last batch", "old batch", "from a batch", "the called-back batch",
    "ein anderes Los", "andere Charge", "nächste Charge", "letztes Los", "dieses Los", "aus einer Charge", "aus der Charge", "eine neue Charge", "anden batch", "en anden serie", "næste serie", "denne serie", "den gamle serie", "sidste parti",
    "this lot", "another lot", "das andere", "den anden", "the other piece", "other piece", "either batch", "Los weiß ich nicht", "ein anderes Stück", "et andet stykke", "batch", "Losnummer", "batchnummer", "recalled", "called back", "zurückgerufen", "tilbagekaldt", "kaldt tilbage",
]  # fmt: skip
DENIED = [
    "anything but B-0150", "all except B-0150", "everything but B-0150", "alle außer B-0150", "alles außer B-0150", "alt undtagen B-0150", "not B-0150", "nicht B-0150", "ikke B-0150", "B-0150 ikke", "B-0150 nicht", "never B-0150",
    "apart from B-0150", "bis auf B-0150", "bortset fra B-0150", "alt andet end B-0150", "nie B-0150", "aldrig B-0150", "any but B-0150", "all but batch B-0150", "rather than B-0150", "kein B-0150", "ingen B-0150", "except for B-0150", "with the exception of B-0150", "mit Ausnahme von B-0150", "med undtagelse af B-0150", "minus B-0150", "!B-0150", "≠ B-0150", "!= B-0150", "> B-0150", ">=B-0150", "<> B-0150", "< B-0150",
]  # fmt: skip
DOUBTED = [
    "maybe B-0150", "B-0150 maybe", "vielleicht B-0150", "måske B-0150", "B-0150 or so", "perhaps batch B-0150", "could be B-0150", "probably B-0150", "B-0150 I think", "wohl B-0150", "nok B-0150", "after B-0150", "nach B-0150", "efter B-0150",
    "before B-0150", "vor B-0150", "før B-0150", "newer than B-0150", "neuer als B-0150", "nyere end B-0150", "the one before B-0150", "from B-0150 on", "ab B-0150", "seit B-0150", "since B-0150", "until B-0150", "like B-0150", "near B-0150", "no B-0150", "~B-0150",
    "≈ B-0150", "B-0150+", "B-0150-", "B-0150…", "B-0150...", "B-0150 ff", "B-0150 plus one", "B-0150 etc",
]  # fmt: skip
STOPPED = [
    "3388", "spool 3388", "Rolle 3388", "spule 3388", "rulle 3388", "Materialcharge 3388", "lot 3388", "parti nr. 3388", "(3388)", "#3388", "K 7741/B", "k7741b", "K-7741-B", "lot K 7741 B",
    "quarantined", "in quarantine", "Quarantäne", "karantæne", "Sperrlager", "Sperrbestand", "spærrelager", "not released yet", "not yet released", "unreleased", "nicht freigegeben", "noch nicht freigegeben", "ohne Freigabe", "ikke frigivet", "endnu ikke frigivet",
    "from the red box", "red bin", "aus der roten Kiste", "rote Box", "fra den røde kasse", "gesperrt", "spærret", "gesperrtes Stück", "spærret stykke", "blocked piece",
]  # fmt: skip
UNNUMBERED = ["andet stykke", "anderes Stück", "dieses Stück ohne Nummer", "piece without a number", "stykke uden nummer", "B-01.5", "B-015.1", "batchh 151", "bacth 151", "batc 151", "plate 151", "Platte 151", "plade 151"]
SPOKEN = [*TWO, *APART, *MISTYPED, *NUMBERED, *ANY, *DENIED, *DOUBTED]


def not_asked(told: Answered) -> bool:
    """Whether a part stands as if no piece had been spoken of."""
    return not all(kinds & KINDS for kinds in kinds_of(told))


@pytest.mark.parametrize("way", ["TV-0417 {said}", "tv0417 {said}", "TV-0417, {said}?", "TV-0417 A {said}"])
def test_a_piece_beside_the_number_of_a_part_is_asked_about(finder: Finder, way: str) -> None:
    told = {said: finder.answer(way.format(said=said)) for said in SPOKEN}
    assert [said for said, each in told.items() if not_asked(each) or "TV-0417" not in [found.number for found in each.found]] == []


def test_a_stopped_piece_in_other_words_is_asked_about_beside_the_number_of_its_part(finder: Finder) -> None:
    told = {f"TV-0417{way} {said}": finder.answer(f"TV-0417{way} {said}") for said in [*STOPPED, *UNNUMBERED] for way in ("", " A", ",")}
    assert [said for said, each in told.items() if not_asked(each) or "TV-0417" not in [found.number for found in each.found]] == []


def test_a_suppliers_number_of_a_stopped_lot_is_that_lot(finder: Finder) -> None:
    told = {said: finder.answer(f"Sun-blind end cap, right {said}") for said in ("3388", "lot 3388", "spool 3388", "Materialcharge 3388", "parti nr. 3388")}
    assert {tuple((reason.text, reason.detail) for reason in each.found[0].reasons if reason.kind == "number") for each in told.values()} == {(("L-0009", "stopped"),)}
    assert {each.meant for each in told.values()} == {("B-0151", "B-0152")}


OTHER_REVISIONS = ["rev B", "Revision B", "Rev. C", "rev.B", "rev b", "REV-B", "revision 2", "Rev B,", "Ausgabe B", "udgave B", "version B"]


@pytest.mark.parametrize("way", ["TV-0417 {said}", "knob {said}", "{said} TV-0417", "TV-0417 {said} on 405"])
def test_another_revision_than_the_parts_own_asks(finder: Finder, way: str) -> None:
    told = {said: finder.answer(way.format(said=said)) for said in OTHER_REVISIONS}
    assert [said for said, each in told.items() if [kinds for found, kinds in zip(each.found, kinds_of(each), strict=True) if found.number == "TV-0417"] not in ([{"unlabelled"}], [{"strange"}])] == []
    assert kinds_of(finder.answer(way.format(said="rev A")))[0] == set()


@pytest.mark.parametrize("way", ["TV-0417 {said}", "knob {said}"])
def test_another_revision_is_told_as_one_beside_that_of_the_part(finder: Finder, way: str) -> None:
    told = {said: finder.answer(way.format(said=said)) for said in ("rev B", "Ausgabe B", "Rev. C")}
    reasons = {said: [(reason.text, reason.asked_as) for reason in each.found[0].reasons if reason.detail == "unlabelled"] for said, each in told.items()}
    assert reasons == {said: [(said, "A")] for said in told}
    (label,) = [reason for reason in finder.answer("TV-0417 no label").found[0].reasons if reason.detail == "unlabelled"]
    assert not label.asked_as


def test_digits_joined_to_the_number_of_a_part_are_those_of_its_label(finder: Finder) -> None:
    told = {said: finder.answer(f"TV-0417{said}") for said in BESIDE}
    assert [said for said, each in told.items() if not_asked(each) or "B-0151" not in each.meant or "TV-0417" not in [found.number for found in each.found]] == []


@pytest.mark.parametrize("way", ["window latch knob {said}", "{said}, knob", "Fensterknopf {said}"])
def test_a_piece_beside_words_is_asked_about(finder: Finder, way: str) -> None:
    """A width of 15 mm is written "B 15" in German."""
    assert [said for said in SPOKEN if not_asked(finder.answer(way.format(said=said)))] == ["B 15"]


def test_a_piece_alone_is_asked_about(finder: Finder) -> None:
    """It finds what it may be of, or says that no piece was named; nothing stands as any of its part."""
    told = {said: finder.answer(said) for said in SPOKEN}
    assert [said for said, each in told.items() if not_asked(each) or not (each.found or each.asks)] == ["B 15"]


@pytest.mark.parametrize("query", ["batch one five one", "Charge eins fünf eins", "batch et fem et", "B 1 5 1", "serie 151", "batch 151"])
def test_a_number_that_is_called_a_batch_finds_its_part_and_no_sizes(finder: Finder, query: str) -> None:
    told = finder.answer(query)
    assert (told.meant, [each.number for each in told.found], told.stranger) == (("B-0151",), ["TV-0105"], None)


@pytest.mark.parametrize("query", ["TV-0417 B-O150", "TV-0417 B-0I50", "TV-0417 A B-O150", "TV-0417 maybe B-0150"])
def test_a_piece_that_was_misread_is_one_and_is_offered(finder: Finder, query: str) -> None:
    told = finder.answer(query)
    assert (told.pieces, told.meant) == ("", ("B-0150",))
    assert kinds_of(told) == [{"strange"}]


@pytest.mark.parametrize("way", ["TV-0417 {said}", "knob, {said}", "{said}"])
def test_the_page_that_a_hit_opens_takes_no_doubted_piece_for_a_known_one(finder: Finder, way: str) -> None:
    """The text of the reason is what stands behind "#batch=" of the link."""
    label = LabelOf(number="TV-0417", batches=tuple(map(tuple, PARTS["TV-0417"]["batches"])), numbers=tuple(PARTS))
    told = {said: finder.answer(way.format(said=said)).found for said in [*TWO, *ANY, *DENIED, *DOUBTED]}
    texts = {said: reason.text for said, found in told.items() for each in found if each.number == "TV-0417" for reason in each.reasons if reason.kind == "number" and reason.detail in KINDS}
    assert texts
    assert {said: text for said, text in texts.items() if (read := batch_read(text, label)).batch and not read.wrong} == {}


@pytest.mark.parametrize("query", ["{way} B-0150", "TV-0417 {way} B-0150"])
@pytest.mark.parametrize("way", ["not", "nicht", "ikke", "anything but", "alle außer", "alt undtagen"])
def test_a_piece_that_is_denied_is_asked_about_alike_in_three_languages_and_never_offered(finder: Finder, way: str, query: str) -> None:
    told = finder.answer(query.format(way=way))
    assert ([each.number for each in told.found], kinds_of(told), told.meant, told.pieces) == (["TV-0417"], [{"strange"}], (), "")


GOOD = [
    "TV-0417 B-0150", "TV-0417 B-0150.", "TV-0417 B-0150?", "TV-0417 B-0150!", "B-0150?", "(B-0150)", "TV-0417 from B-0150", "TV-0417 fra B-0150", "TV-0417 aus B-0150", "TV-0417 with batch B-0150", "TV-0417 mit Los B-0150", "TV-0417 med serie B-0150",
    "TV-0417 batch B-0150", "TV-0417 Charge B-0150", "TV-0417 piece B-0150", "TV-0417 no. B-0150", "TV-0417 batch no B-0150", "TV-0417 nr. B-0150", "TV-0417 it is B-0150", "is B-0150 ok", "is B-0150 good?", "is the batch B-0150 ok", "can I use the batch B-0150", "is this batch ok B-0150", "can I fit TV-0417 B-0150", "darf ich TV-0417 B-0150 einbauen",
    "knob B-0150 on 405", "B-0150, 405", "B-0150 and 405", "B-0150 for 405 and 406", "TV-0417 B-0150 need 2", "TV-0417 2x B-0150", "TV-0417 - B-0150", "TV-0417 <B-0150>", "B-0150 36 mm", "knob from B-0150 on 405",
]  # fmt: skip


ASKED = [
    "may I fit {piece}", "can I use {piece} on 405?", "is the piece {piece} ok", "{piece} is it allowed", "darf ich {piece} einbauen", "kann ich {piece} auf Wagen 405 montieren?", "passt {piece} auf TR4 405", "må jeg montere {piece} på 405",
    "må {piece} bruges på vogn 405", "er {piece} ok", "{piece} for 405 not 406", "{piece} nicht 406", "2 x {piece}", "two {piece}", "2 Stück {piece}", "{piece} on TR4 405, 406 and 407", "{piece} 401-405", "{piece} rev A", "{piece}, no. 4-117-0417", "latch {piece}", "{piece} for the window",
]  # fmt: skip


@pytest.mark.parametrize("piece", ["TV-0417 B-0150", "TV-0417, batch B-0150", "knob from B-0150"])
def test_what_asks_about_a_piece_is_understood(finder: Finder, piece: str) -> None:
    told = {way: finder.answer(way.format(piece=piece)) for way in ASKED}
    assert {way: each.unread for way, each in told.items() if kinds_of(each) != [{"batch"}] or each.unread} == {}


PLAINLY = [
    "is {piece} all right", "is {piece} alright?", "{piece} all right to fit?", "is it ok {piece}", "is {piece} fine?", "is {piece} OK to use", "am I allowed to fit {piece}", "is this one ok {piece}", "may I mount {piece}?", "is {piece} safe to fit", "can this be fitted {piece}",
    "ist {piece} in Ordnung", "Ist {piece} in Ordnung?", "{piece} in ordnung", "{piece} i.O.?", "ist das {piece} ok", "ist das {piece} okay", "darf ich {piece}", "darf {piece} rein", "darf das {piece} eingebaut werden", "kann man {piece} nehmen", "ist es in Ordnung {piece}", "geht {piece}",
    "darf ich {piece} verwenden", "ist {piece} zulässig",
    "er {piece} i orden", "er {piece} okay", "{piece} i orden?", "må jeg montere {piece}", "må jeg godt montere {piece}?", "må man bruge {piece}", "må {piece} sættes i", "kan {piece} monteres", "er det i orden {piece}", "må den monteres {piece}",
]  # fmt: skip


@pytest.mark.parametrize("piece", ["TV-0417 B-0150", "B-0150", "knob B-0150"])
def test_a_plain_question_beside_a_piece_is_one_about_it_and_no_more(finder: Finder, piece: str) -> None:
    told = {way: finder.answer(way.format(piece=piece)) for way in PLAINLY}
    alone = finder.answer(piece)
    assert {way: each.unread for way, each in told.items() if kinds_of(each) != [{"batch"}] or each.unread or each.found[0].answering != alone.found[0].answering} == {}


def test_a_plain_question_makes_no_other_piece_better(finder: Finder) -> None:
    """Of a piece that nobody knows, of two, of a stopped lot or of one that is denied."""
    unknown = {way: finder.answer(way.format(piece="TV-0417 B-0999")) for way in PLAINLY}
    assert {reason.text for each in unknown.values() for found in each.found for reason in found.reasons if reason.detail in NAMES} == {"B-0999"}, "the batch is unknown here"
    for piece in ("TV-0417 B-O150", "B-0150 B-0127", "TV-0105 L-0009", "TV-0417 not B-0150", "TV-0417 no label", "TV-0417 maybe B-0150"):
        assert [way for way in PLAINLY if not_asked(finder.answer(way.format(piece=piece)))] == [], piece


NOT_RIGHT = ["ist {piece} nicht in Ordnung", "{piece} wieder in Ordnung", "{piece} in Unordnung", "{piece} n.i.O.", "is {piece} not all right", "{piece} all right but cracked", "er {piece} ikke i orden", "{piece} ude af orden", "{piece} geht nicht", "{piece} unsafe", "{piece} unzulässig", "{piece} all wrong", "{piece} er nok i orden"]  # fmt: skip


def test_what_says_that_a_piece_is_not_right_asks(finder: Finder) -> None:
    assert [way for way in NOT_RIGHT if not_asked(finder.answer(way.format(piece="TV-0417 B-0150")))] == []


BESIDE_IT = {
    "{piece} and the other": "and the other", "{piece} und der andere": "und der andere", "{piece} og den anden": "og den anden", "{piece} und noch eins": "und noch eins", "{piece} og en til": "og en til", "{piece} & one": "& one",
    "{piece} and a knob": "and", "{piece} and knob": "and", "and {piece}": "and", "{piece}, TV-0417": "TV-0417", "{piece} und ein zweites Los": "und ein zweites", "einer aus {piece}, einer ohne": "einer … einer ohne",
    "{piece} in one hand, other piece too": "in one hand … other … too", "neither {piece} nor the rest": "neither … nor the rest", "the one next to {piece}": "the one next", "neben {piece}": "neben", "ved siden af {piece}": "ved siden",
    "{piece} is wrong": "wrong", "{piece} stimmt nicht": "stimmt nicht", "{piece} passt nicht": "nicht", "{piece} passer ikke": "ikke", "{piece} no good": "no", "{piece} not good": "not", "{piece} crossed out": "crossed out", "{piece} durchgestrichen": "durchgestrichen",
    "{piece} overstreget": "overstreget", "{piece} et al": "et al", "{piece} usw": "usw", "{piece} m.fl.": "m.fl", "{piece} ❌": "❌", "{piece} gesperrt": "gesperrt", "{piece} and screws": "and screws", "{piece} and 4 screws": "and … screws", "{piece} 70123": "70123",
    "{piece} toString constructor": "toString constructor", "{piece} " + "x" * 99: "x" * 60 + "…",
}  # fmt: skip


@pytest.mark.parametrize("piece", ["TV-0417 B-0150", "TV-0417 batch B-0150"])
def test_what_is_not_understood_beside_a_known_piece_is_told_and_asks(finder: Finder, piece: str) -> None:
    """What speaks against a piece, or of another one, has no end: each case here stands for many."""
    told = {way: finder.answer(way.format(piece=piece)) for way in BESIDE_IT}
    assert {way: each.unread for way, each in told.items() if [found.number for found in each.found] != ["TV-0417"] or kinds_of(each) != [{"unread"}] or each.meant or each.asks} == {}
    assert {way: " … ".join(each.unread) for way, each in told.items()} == BESIDE_IT


def test_the_page_of_what_was_not_understood_takes_no_piece_for_a_known_one(finder: Finder) -> None:
    """What the link holds behind "#batch=", by the script of the hits."""
    label = LabelOf(number="TV-0417", batches=tuple(map(tuple, PARTS["TV-0417"]["batches"])), numbers=tuple(PARTS))
    finder._engine.eval("globalThis.page = (query) => { const ranked = spares.finder.rank(index, query, ''); return spares.finder.askedOfPage(ranked, ranked.hits[0].at); }")
    told = {way: finder._engine.call("page", way.format(piece="TV-0417 B-0150")) for way in BESIDE_IT}
    assert {way: text for way, text in told.items() if "B-0150" not in text or batch_read(text, label).batch} == {}


def test_a_good_piece_stays_the_one_that_was_said(finder: Finder) -> None:
    told = {query: finder.answer(query) for query in GOOD}
    assert [query for query, each in told.items() if [(found.number, kinds) for found, kinds in zip(each.found, kinds_of(each), strict=True)] != [("TV-0417", {"batch"})]] == []


NONE = [
    "knob 15 mm", "knob 151 mm", "knob 151mm", "knob B 120 H 40", "TV-0417 B 120 H 40", "knob M5 x 15", "knob 40x15", "knob 40 x 15", "TV-0417 M5 x 15", "knob B 15", "knob 42", "end cap 120", "part 120 by 40", "Teil 120 mal 40", "del 120 lang", "piece 120 long", "part 120 x 40", "Teil 120x40", "TV-0417 120 wide", "knob 151 by 40", "knob 3388 mm", "knob does not get released", "drain blocked", "red knob", "rotes Fenster", "rev counter", "knob, plate 120 wide", "det forreste parti", "TV-0105 120", "knob Ø 151", "knob H 151",
    "TV-0417 vehicle 151", "TV-0417 car 4417", "TV-0417 Wagen 151", "TV-0417 vogn 151", "TV-0417 405", "TV-0417 (405)", "TV-0417/405", "TV-0417 nr 405", "TV-0417 #405", "TV-0417 TR4 401, 402", "TV-0417 not 405", "TV-0417 TR4 151", "knob no. 405",
    "0417", "417", "part 417", "part no. 0417", "Teil 0417", "TV-417", "TV0417", "4-117-0417", "TV-0417 4-117-0417", "no. TV-0417", "Teil Nr. TV-0417", "number 105",
    "2 knobs", "two knobs", "two pieces of TV-0417", "need 15", "need 151 knobs", "TV-0417 151 pcs", "TV-0417 151 Stück", "TV-0417 151 stk", "151 x TV-0417", "TV-0417 qty 151", "TV-0417 need 15", "15 pieces", "3 stk knob",
    "TV-0417 2026", "TV-0417 from 2024", "TV-0417 Baujahr 2011", "TV-0417 2026-11-28", "TV-0417 28/11",
    "the other knob", "another knob", "another one", "it takes the place of the other", "next knob", "knob other side", "knob, the other side", "Knopf andere Seite", "den anden side", "das andere Fenster", "next to the window", "knob has a lot of play", "knob ist los", "phone will not charge", "in charge", "door no. 2", "seat 15", "window 15",
    "TV-0417 A", "TV-0417 rev A", "TV-0417 24 V", "TV-0417 15 N", "TV-0417 100 g", "knob PA 12", "PA12", "EN 45545", "TV-0417 HL3", "knob can be called", "knob after cleaning", "knob before the door", "maybe the knob", "everything but the knob",
]  # fmt: skip


def test_sizes_vehicles_numbers_counts_and_years_are_no_pieces(finder: Finder) -> None:
    told = {query: finder.answer(query) for query in NONE}
    assert [query for query, each in told.items() if any(kinds_of(each)) or each.asks or each.pieces] == []
