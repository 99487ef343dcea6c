"""A batch's number finds its part, surely and alone; what is only like one finds none by it."""

import re
from pathlib import Path

import pytest

from generator.edge.commands.find import _judgements, _verdicts
from generator.finder.engine import Finder
from generator.pages.addresses import addresses
from generator.pages.finder.index import finder_data
from generator.pages.wording import wording
from generator.rules.verdicts import Verdict
from tests.browser.bundles import SCRIPTS
from tests.fixtures.produced import printed_depot, recall
from tests.pages.sample import CATALOGUE, DAY, judged_sample


@pytest.fixture(scope="module")
def judged(tmp_path_factory: pytest.TempPathFactory):
    root = printed_depot(CATALOGUE, tmp_path_factory.mktemp("batches") / "catalogue")
    recall(root, "RC-007", batch="B-0012")
    file = root / "depot.yml"
    file.write_text(file.read_text(encoding="utf-8") + "floor_languages: [en, de, da]\n", encoding="utf-8")
    return judged_sample(root)


@pytest.fixture(scope="module")
def finder(judged):
    catalogue, sheets, _ = judged
    with Finder(finder_data(catalogue, sheets, addresses(catalogue.parts), DAY), Path(SCRIPTS.folder)) as one:
        yield one


@pytest.mark.parametrize("query", ["B-0011", "b-0011", " b0011 ", "B 0011"])
def test_a_number_of_a_batch_is_sure(finder: Finder, query: str) -> None:
    told = finder.answer(query)
    assert (told.said, [(each.number, each.is_sure) for each in told.found]) == ("this", [("P-0004", True)])
    assert [(each.kind, each.text, each.detail) for each in told.found[0].reasons] == [("number", "B-0011", "batch")]


@pytest.mark.parametrize("query", ["B-11", "B-001", "B-00111", "0011", "B-0099", "B-0011x", "X-0011"])
def test_what_is_only_like_one_is_none(finder: Finder, query: str) -> None:
    assert "batch" not in [reason.detail for each in finder.find(query) for reason in each.reasons]


def test_a_part_of_that_number_comes_before_a_batch(finder: Finder) -> None:
    assert [each.number for each in finder.find("P-0004")][:1] == ["P-0004"]
    assert "batch" not in [reason.detail for reason in finder.find("P-0004")[0].reasons]


@pytest.mark.parametrize(
    "query",
    [
        "P-0004 A B-0011", "p-0004 a b0011", "P0004AB0011", "P0004 A B0011", "P-0004 · A · B-0011", "B-0011 P-0004 A", "P-0004 Rev. A B–0011", "P-0004 B-0011",
        "P-0004 A B-0011 P-0004 A B-0011", "https://parts.example/parts/P-0004.html#batch=B-0011", "P_0004_A_B_0011",
    ],
)  # fmt: skip
def test_a_whole_label_finds_its_piece(finder: Finder, query: str) -> None:
    told = finder.answer(query)
    assert (told.said, [(each.number, each.is_sure) for each in told.found]) == ("this", [("P-0004", True)])
    assert [(each.kind, each.text, each.detail) for each in told.found[0].reasons] == [("number", "B-0011", "batch")]


@pytest.mark.parametrize(("query", "batch"), [("P-0002 P-101", "P-101"), ("P0002AP101", "P-101"), ("P-0004 B B-0014", "B-0014")])
def test_a_label_whose_batch_is_written_like_a_part_is_read(finder: Finder, query: str, batch: str) -> None:
    assert [each.text for each in finder.find(query)[0].reasons] == [batch]


@pytest.mark.parametrize("query", ["P-0004 B B-0011", "P-0002 A B-0011", "P-0002 B-0013"])
def test_a_label_that_does_not_agree_opens_the_part_that_it_says_with_the_whole_label(finder: Finder, judged, query: str) -> None:
    told = finder.answer(query)
    assert [each.number for each in told.found] == [query[:6]]
    assert [each.text for each in told.found[0].reasons] == [query]
    sheet = next(each for each in judged[1] if each.number == query[:6])
    assert _verdicts(sheet, told.found[0], wording("en")) == "Do not fit"


def test_a_label_of_a_batch_without_a_record_opens_its_part_and_asks(finder: Finder, judged) -> None:
    found = finder.find("P-0004 A B-0199")[0]
    sheet = next(each for each in judged[1] if each.number == "P-0004")
    assert ([each.text for each in found.reasons], "Fit it" in _verdicts(sheet, found, wording("en"))) == (["B-0199"], False)


@pytest.mark.parametrize("query", ["P-0004 M4", "P-0004 F1 2", "P-0004 A", "P-0004", "vane 0011", "P-0004 B 2", "P-0004 12 mm", "P-0009 B-0011", "B-0011 B-0012", "P-0004 A B-O011"])
def test_what_is_no_label_is_none(finder: Finder, query: str) -> None:
    assert "batch" not in [reason.detail for each in finder.find(query) for reason in each.reasons]


def test_it_stands_as_its_pieces_do(finder: Finder, judged) -> None:
    """A list that says of a rejected batch what its part may would send people to fit it."""
    sheet = next(each for each in judged[1] if each.number == "P-0004")
    for batch, word in {"B-0012": "Do not fit", "B-0013": "Do not fit", "B-0014": "Do not fit"}.items():
        found = finder.find(batch)[0]
        assert set(re.split(": |, | / ", _verdicts(sheet, found, wording("en")))) & {"Fit it", "Ask first", "Do not fit"} == {word}


def verdicts_of(judged, found) -> str:
    return _verdicts(next(each for each in judged[1] if each.number == found.number), found, wording("en"))


@pytest.mark.parametrize("query", ["{name} B-0012", "B-0012 {name}", "{name} b0012", "{name}, B-0012", "{name} batch B-0012", "P-0004 0012"])
def test_a_batch_among_other_words_is_the_piece_that_is_asked_about(finder: Finder, judged, query: str) -> None:
    catalogue, _, _ = judged
    (name,) = {each.name for each in catalogue.parts if each.number == "P-0004"}
    told = finder.answer(query.format(name=name))
    assert [each.number for each in told.found] == ["P-0004"]
    said = verdicts_of(judged, told.found[0])
    assert "Do not fit" in said
    assert "Fit it" not in said


@pytest.mark.parametrize("query", ["{name} B-0099", "{name} B-O012", "P-0004 B-O012", "P-0004 B-0099", "B-0099 {name}", "{name} B-0011 B-0012"])
def test_a_batch_that_nobody_knows_is_never_fitted_whatever_stands_beside_it(finder: Finder, judged, query: str) -> None:
    catalogue, _, _ = judged
    (name,) = {each.name for each in catalogue.parts if each.number == "P-0004"}
    for each in finder.answer(query.format(name=name)).found:
        assert "Fit it" not in verdicts_of(judged, each)


BESIDE = ["{name} B-0011 {more}", "{more} B-0011 {name}", "{name} {more} b0011", "{more}, {name}: (B 0011)"]


@pytest.mark.parametrize("way", BESIDE)
@pytest.mark.parametrize("more", ["F1", "F1 3", "please", "Los", "serie", "42 mm"])
def test_a_good_piece_stays_good_beside_what_says_nothing_against_it(finder: Finder, way: str, more: str) -> None:
    (found,) = finder.find(way.format(name="vane", more=more))
    assert (found.number, [each.detail for each in found.reasons if each.kind == "number"]) == ("P-0004", ["batch"])


@pytest.mark.parametrize(
    "query",
    [
        "latch {piece}", "{piece} latch", "P-0001 latch {piece}", "latch P-0001 {piece}", "lamp glass {piece}", "plug, {piece}", "vane Rev B {piece}", "vane B {piece}",
        "P-0004 C {piece}", "P-0004 3 C {piece}", "vane {piece} B-0014", "vane {piece}/B-0013", "vane {piece} and B-0099", "vane {piece}/12", "vane {piece}–0014", "vane {piece} 0012",
        "P-0001 {piece}", "{piece} P-0002",
    ],
)  # fmt: skip
@pytest.mark.parametrize("piece", ["B-0011", "b0011", "B 0011"])
def test_a_good_piece_is_none_beside_words_that_say_another(finder: Finder, judged, query: str, piece: str) -> None:
    told = finder.answer(query.format(piece=piece))
    assert told.found
    for each in told.found:
        assert "Fit it" not in verdicts_of(judged, each)
        assert {reason.detail for reason in each.reasons if reason.kind == "number"} & {"label", "strange"}


# From memory of how labels are typed, spoken, pasted and scanned.
WRITINGS = [
    "B-12", "b12", "B 12", "batch 12", "batch no. 0012", "Los Nr. 12", "serie 0012", "batch O012", "0012", "OO12", "#0012", "0012 B", "0012-B", "B-OO12", "8-0012", "b o012", "BOO12",
    "B0012x", "AB0012", "vaneB0012", "b 0 0 1 2", "B--0012", "B=0012", "B,0012", "B|0012", "B  -  0012", "B-\u200b0012", '"B-0012"', "V-0012", "V0012", "\u0392-0012", "\u0412-0012",
    "B-0099", "B-99", "B-00999", "b0099", "P-109", "B-0012/14",
]  # fmt: skip
WRITTEN = ["B-0012", "b0012", "B 0012", "(B-0012)", "B-0012.", "B-0012!", "vane-B-0012", "vane/B-0012", "batch:B-0012", "\uff22-\uff10\uff10\uff11\uff12", "b.0012", "B/0012", "B\u22120012", "B\u00df0012", "A-B-0012"]


@pytest.mark.parametrize("way", ["vane {piece}", "{piece} vane", "vane for F1 3, {piece}", "Vane {piece} bitte"])
@pytest.mark.parametrize(("piece", "detail"), [*((each, "strange") for each in WRITINGS), *((each, "batch") for each in WRITTEN)])
def test_however_a_piece_is_written_among_words_it_is_asked_about(finder: Finder, judged, way: str, piece: str, detail: str) -> None:
    told = finder.answer(way.format(piece=piece))
    assert "P-0004" in [each.number for each in told.found]
    for each in told.found:
        if each.kind == "part":
            assert detail in [reason.detail for reason in each.reasons]
            assert "Fit it" not in verdicts_of(judged, each)


@pytest.mark.parametrize("query", ["latch B-0099", "B-0001", "foo B-0001", "latch V-0011", "F1 B-0099", "3 B-0099", "latch 0099", "latch batch 7"])
def test_a_part_that_may_be_fitted_is_not_as_a_piece_that_nobody_knows(finder: Finder, judged, query: str) -> None:
    assert "Fit it" in verdicts_of(judged, finder.find("latch")[0])
    for each in finder.find(query):
        if each.kind == "part":
            assert "Fit it" not in verdicts_of(judged, each)


@pytest.mark.parametrize("query", ["latch", "P-0001", "p0001 latch", "latch F1 3", "latch 12 mm", "latch B 12 H 40", "latch 0,012", "latch M4", "latch 0001", "latch P-1", "40 x 20 latch"])
def test_numbers_sizes_and_vehicles_are_no_pieces(finder: Finder, query: str) -> None:
    assert not {reason.detail for each in finder.find(query) for reason in each.reasons if isinstance(reason.detail, str)} & {"batch", "strange", "label"}


def test_a_vehicle_beside_a_batch_is_the_one_that_is_asked_for(finder: Finder, judged) -> None:
    for query in ("B-0011 F1 3", "F1 3 B-0011", "P-0004 F1 3 B-0011"):
        (found,) = finder.find(query)
        assert found.named == ("F1 3",)
    assert "Fit it" not in verdicts_of(judged, finder.find("F1 9 vane B-0011")[0])


# From memory of what is said over the counter and typed with gloves on.
UNSAID = [
    "B-12A", "B-12x", "b-0012a", "B012x", "batch one two", "batch twelve", "batch zero zero one two", "Los eins zwei", "serie nul nul en to", "bee zero zero nine nine", "Berta null null neun neun", "be nul nul ni ni", "batch five", "batch no. five",
    "no label", "without batch", "batch unreadable", "label gone", "unlabelled", "can't read the batch? label not readable", "which batch", "ohne Etikett", "kein lesbares Etikett", "Los unleserlich",
    "Los ist nicht lesbar", "uden mærkat", "ingen serie", "serien kan ikke læses", "mærkat mangler", "batch ?", "B-????", "B-00?2", "B-XXXX", "B-", "batch B", "B-....",
    "L-2", "l-2", "lot L-2", "charge L-2", "lot 2", "parti nr. 2", "L-1", "L-9", "RC-007", "recall R-001", "rc-7", "RC 7", "Rückruf 7",
    "not B-0011", "not batch B-0011", "nicht B-0011", "kein Los B-0011", "ikke serie B-0011", "B-0011 not", "other than B-0011", "instead of B-0011", "ohne B-0011",
]  # fmt: skip


@pytest.mark.parametrize("way", ["{name} {piece}", "{name}, {piece}", "F1 3 {name} {piece}", "P-0001 {piece}"])
@pytest.mark.parametrize("piece", UNSAID)
def test_a_piece_whose_batch_nobody_says_is_asked_about(finder: Finder, judged, way: str, piece: str) -> None:
    """Asked with a part of which any may be fitted: all that stands against it is what was said of the piece."""
    for name in ("vane", "latch"):
        told = finder.answer(way.format(name=name, piece=piece))
        assert told.stranger is None
        for each in told.found:
            if each.kind == "part":
                assert {reason.detail for reason in each.reasons if reason.kind == "number"} & {"strange", "stopped", "lot", "unlabelled", "label"}
                assert "Fit it" not in verdicts_of(judged, each)


@pytest.mark.parametrize(
    "query",
    ["latch L 40 W 30", "latch L 120", "latch 120 L", "latch M32", "latch B120x40", "latch los", "latch no wing", "latch without lid", "latch two screws", "latch b x 20", "latch in charge", "latch 6 mm", "latch no. 3", "label window"],
)  # fmt: skip
def test_sizes_and_loose_words_speak_of_no_piece(finder: Finder, query: str) -> None:
    pieces = {"batch", "strange", "label", "stopped", "lot", "unlabelled"}
    assert not {reason.detail for each in finder.find(query) for reason in each.reasons if isinstance(reason.detail, str)} & pieces


@pytest.mark.parametrize(("query", "kind", "text"), [("vane L-2", "stopped", "L-2"), ("vane recall R-001", "stopped", "R-001"), ("RC-007", "stopped", "RC-007"), ("vane lot 1", "lot", "L-1"), ("L-2", "stopped", "L-2")])
def test_a_lot_or_a_recall_names_what_is_called_back_and_offers_its_batches(finder: Finder, query: str, kind: str, text: str) -> None:
    told = finder.answer(query)
    assert [(reason.detail, reason.text) for reason in told.found[0].reasons if reason.kind == "number"] == [(kind, text)]
    assert [each.number for each in told.found] == ["P-0004"]
    assert told.meant == {"L-1": ("B-0011", "B-0012", "B-0014"), "RC-007": ("B-0012",)}.get(text, ("B-0013",))


def test_the_suppliers_number_of_a_stopped_lot_alone_is_in_the_data(judged) -> None:
    catalogue, sheets, _ = judged
    things = finder_data(catalogue, sheets, addresses(catalogue.parts), DAY)["things"]
    stopped = {name: each.supplier_lot for name, each in catalogue.production.lots.items() if things[name]["is_stopped"]}
    assert stopped
    assert {name: each["number"] for name, each in things.items() if "number" in each} == stopped


@pytest.mark.parametrize("query", ["batch 150 vane", "vane batch one fifty", "F1 3 vane batch 499", "Los 150 vane", "vane lot 150"])
def test_the_word_batch_decides_that_a_number_is_no_vehicle(finder: Finder, query: str) -> None:
    told = finder.answer(query)
    assert told.stranger is None
    assert told.found


@pytest.mark.parametrize("query", ["vane B-0011 for F1 3 not 4", "vane no. B-0011", "vane number B-0011", "vane B-0011?"])
def test_a_denial_of_something_else_leaves_the_piece(finder: Finder, query: str) -> None:
    assert "batch" in [reason.detail for reason in finder.find(query)[0].reasons]


@pytest.mark.parametrize("beside", ["does not turn", "and the other", "is wrong", "og en til"])
def test_beside_what_is_not_understood_a_good_piece_is_asked_about_and_a_stopped_one_stays_so(finder: Finder, judged, beside: str) -> None:
    sheet = next(each for each in judged[1] if each.number == "P-0004")
    assert {each.verdict for each in _judgements(sheet, finder.find("vane B-0011")[0]).values()} == {Verdict.FIT_IT}
    for batch, stands in {"B-0011": Verdict.ASK_FIRST, "B-0012": Verdict.DO_NOT_FIT}.items():
        (found,) = finder.find(f"vane {batch} {beside}")
        assert [each.detail for each in found.reasons if each.kind == "number"] == ["unread"]
        assert {each.verdict for each in _judgements(sheet, found).values()} == {stands}


@pytest.mark.parametrize("query", ["P-0004.html?batch=B-0011&batch=B-0013", "https://x/parts/P-0004.html#batch=B-0011&batch=B-0013", "/parts/P-0004.html?batch=b0011#batch=B-0013", "p.html?batch=B-0011&batch=B-0013"])
def test_an_address_of_two_pieces_is_asked_about(finder: Finder, judged, query: str) -> None:
    told = finder.answer(query)
    assert set(told.meant) == {"B-0011", "B-0013"}
    assert all("Fit it" not in verdicts_of(judged, each) for each in told.found if each.kind == "part")
