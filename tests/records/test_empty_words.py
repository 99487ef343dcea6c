"""Words that say nothing are no reason and name no gauge, letter or lot; whatever people honestly write, however curt, is an answer.

Both lists were written before the words were collected; from memory, in three languages.
"""

from itertools import permutations
from pathlib import Path

import pytest
import yaml
from hypothesis import given
from hypothesis import strategies as st

from generator.records.approvals import Waiver
from generator.records.batches import MeasuredCheck
from generator.records.free_texts import TABLE, Blank
from generator.records.lots import Lot, LotDocument, Unblocked
from generator.records.placeholders import gives_no_reason, identifies_nothing

NO_REASON = [
    "see report", "See report.", "see file", "see mail", "see e-mail", "See the report that is attached", "siehe oben", "siehe Anhang", "s. Anhang", "s. o.", "s.o.", "lt. Mail", "siehe Prüfbericht",
    "se vedlagt", "se bilag", "se vedhæftede fil", "as above", "report", "by phone", "telefonisch", "pr. telefon", "nach Rücksprache", "laut Protokoll", "ifølge aftale",
    "ok", "OK!", "o. k.", "O.K.", "okay", "ok ok", "fine", "good", "all good", "alles gut", "Alles OK", "passt", "passt schon", "i.O.", "i. O.", "alles i. O.", "in Ordnung", "i orden", "alt ok", "godt", "klar", "ja",
    "Begründung folgt", "reason follows", "Grund wird nachgereicht", "Begründung wird noch nachgereicht", "begrundelse følger", "explanation to follow", "report pending", "reason: tbd",
    "none given", "no reason", "No reason given.", "ohne Grund", "ohne Begründung", "ingen grund", "uden begrundelse", "keine Bemerkung", "no comment", "kein Kommentar", "kein Grund angegeben",
    "wie besprochen", "as discussed", "as agreed", "som aftalt", "wie vereinbart", "as usual", "wie immer", "som altid", "as usual", "auf Anweisung", "decided", "entschieden", "as told",
    "<reason>", "<Grund>", "{why}", "{{ why }}", "[reason]", "<why it is good again>", "why: <reason>", "<reason 1>", "%REASON%", "__why__", "$why",
    "reason", "Reason:", "why", "Why?", "because", "weil", "fordi", "Grund", "årsag", "aarsag", "Begründung", "Begruendung", "just because", "darum", "derfor",
    "done", "Done.", "erledigt", "checked", "geprüft", "geprueft", "wurde geprüft", "kontrolleret", "has been checked", "checked and ok", "geprüft, i.O.", "test", "Test", "test test", "testtest", "TEST123",
    "asdf", "asdfasdf", "qwertz", "qwe", "yxcv", "aaaa", "hhh", "lorem", "lorem ipsum", "abc", "abcabc", "ABC123", "xyz", "bla", "bla bla", "blabla", "foo", "dummy", "👍", "✓", "!!!", "o\u200bk", "ｏｋ", "RELEASED", "freigegeben",
    "refer to report", "siehe Beiblatt", "mündlich", "mundtligt", "wieder ok", "good again", "Grund später", "details later", "coming soon", "will be added", "ditto", "same as above", "enter reason here", "your reason", "Grund eingeben",
    "hier Grund eintragen", "skriv grund", "angiv årsag", "irgendein Grund", "some reason", "hm", "egal", "whatever", "danke", "please release", "bitte freigeben", "Freigabe", "unblock", "ophæv", "boss said so", "Chef sagt", "chefen siger",
    "OK nach Prüfung", "ok after check", "Kontrolle", "kontrol", "check", "jep", "genau", "nope", "null", "TODO reason", "k", "y",
    "nothing to report", "same as last time", "approved by quality", "by quality", "quality says so", "the recall is lifted", "sorted", "looks good", "should be fine", "urgent", "needed today", "customer wants it",
    "telefonisch geklärt", "müsste gehen", "wird schon passen", "wie letztes Mal", "eilt", "OK, Meier", "gez. Qualität", "det går nok", "ser fint ud", "haster", "vide supra", "28.11.2026",
    "looks ok to me", "sieht gut aus", "sollte passen", "geht schon", "bør gå", "dringend", "wird heute gebraucht", "skal bruges i dag", "Kunde wartet", "kunden venter", "wie beim letzten Mal", "som sidste gang", "nichts zu melden",
    "intet at bemærke", "Rückruf ist aufgehoben", "tilbagekaldelsen er ophævet", "durch Qualität freigegeben", "godkendt af kvalitet", "Qualität sagt ja", "gez. Meier", "signed K. Albers", "ok / Hansen", "am 28.11.", "2026-11-28", "28 November 2026", "dto",
]  # fmt: skip
REASONS = [
    "worn", "broken", "cracks", "wrong", "bent", "warped", "wet", "brittle", "smells", "holds", "too short", "gauge was wrong", "spectrometer fine", "wrong spool", "no cracks", "tested, holds", "tested", "getestet", "testet", "tested ok", "fits again", "a slip",
    "mix-up", "typo", "typed wrongly", "loose", "see report 12/2026", "see report 12", "see drawing TV-0104", "as agreed with quality on 12 March: lot analysed", "agreed with quality", "report LS 26-77: no cracks",
    "not good", "no good", "not ok", "not released", "no report", "other lot", "another material", "another drum", "supplier's letter SL-26-77", "supplier says fine", "retested 5 of 5", "crack missing on rest",
    "cap missing", "cover open", "screw missing", "water in the drum, analysis pending", "crack at the screw hole - analysis pending", "report 12 to follow", "called back", "campaign", "looks fine", "density fine", "impact test passed", "cause unknown", "recall RC-0002 stands for it",
    "falsche Rolle", "falsche Charge", "verwechselt", "vertippt", "gerissen", "Riss", "Haarrisse", "verzogen", "feucht", "zu klein", "passt nicht", "nicht gut", "n. i. O.", "n.i.O.", "nicht i.O.", "Maß daneben", "Schraube fehlt",
    "Klappe offen", "geprüft nach Zeichnung", "Prüfung bestanden", "Probe ok", "nachgemessen, hält", "andere Charge", "lt. Lieferant nicht betroffen", "keine Risse", "Brief SL-26-77", "siehe Bericht 12", "Analyse gut", "kein Zeugnis",
    "ohne Unterlagen", "Ursache unbekannt", "getrocknet", "Schlagzähigkeit in Ordnung", "Messfehler", "Lehre war falsch", "beim Einbau gebrochen", "Wasser im Fass, Analyse ausstehend", "Siehe Foto", "mit Qualität besprochen",
    "forkert spole", "forkert parti", "ombyttet", "slidt", "knækket", "revner", "ingen revner", "skæv", "fugtig", "for lille", "passer ikke", "ikke godt", "skrue mangler", "målefejl", "analyse god", "brev SL-26-77", "andet parti",
    "testet, holder", "se rapport 12", "aftalt med kvalitet", "måler var forkert", "tørret", "prøve ok", "ikke berørt", "knækkede ved montering", "prøven bestod", "ikke frigivet",
    "alt", "zu alt", "no number", "keine Nummer", "no test", "sample", "Muster", "passt nicht mehr", "die broke", "not tested", "keine Prüfung", "ohne Freigabe", "expired", "abgelaufen", "udløbet", "wrong label", "Etikett falsch", "customer asked",
    "dropped", "tabt", "lost", "mistet", "out of limits", "außer Toleranz", "Maß 6,02 statt 6,10", "Düse verstopft", "stoppet dyse", "Stromausfall", "first print", "Erstmuster", "burnt", "brændt", "nothing found", "not so", "nicht so", "ohne Befund", "no problem",
    "Kalibrierschein nachgereicht", "Zeugnis liegt vor", "certificate arrived", "certifikat eftersendt", "black spots", "schwarze Punkte", "sorte pletter", "printed twice", "doppelt gedruckt", "wrong colour", "falsche Farbe", "last layer missing",
    "letzte Lage fehlt", "looks burnt", "should be grey", "needs drying", "quality refused", "Qualität fand Lunker", "kvalitet afviste", "customer refused", "Kunde lehnt ab", "recall was for L-0002", "recall", "signed by mistake on the wrong sheet",
    "CT-Scan ok", "geht auf", "geht nicht", "går ikke", "will not fit", "OK, Messfehler", "ok, dry", "illegible label", "blue instead of black", "report of 28.11.2026", "6,02 statt 6,10",
]  # fmt: skip
NO_NUMBER = [
    "by eye", "By eye.", "Augenmaß", "Augenmass", "nach Augenmaß", "øjemål", "på øjemål", "Messschieber folgt", "caliper to follow", "gauge pending", "skydelære følger", "irgendeine", "irgendein", "any", "any gauge",
    "some gauge", "the usual", "the usual gauge", "gauge", "Gauge:", "Messmittel", "Lehre", "måleværktøj", "no gauge", "kein Messmittel", "uden måler", "Sichtprüfung", "visual", "visual inspection", "Gefühl", "en eller anden", "hvilken som helst",
    "see spool", "siehe Rolle", "se spolen", "auf der Rolle", "on the label", "på etiketten", "auf dem Etikett", "see certificate", "siehe Zeugnis", "see the drum", "lot", "Lot no.", "Charge Nr.", "Los-Nr.", "parti nr.",
    "ref", "ref.", "Ref:", "reference", "see file", "letter", "the letter", "mail", "E-Mail", "e-mail", "Brief", "per Mail", "brev", "by phone", "telefonisch", "attached", "Anlage", "vedlagt", "report", "Bericht", "certificate",
    "<gauge>", "{lot}", "[reference]", "{{lot}}", "<no. 1>", "ok", "o.k.", "fine", "checked", "asdf", "test", "aaaa", "abc", "lorem", "tbd", "as discussed", "wie besprochen", "some", "nogen", "ukendt", "000",
    "unlesbar", "kein Aufdruck", "ulæselig", "not printed", "as delivered", "wie geliefert", "black", "PC black", "1.75 mm", "1 kg", "rest", "3.1", "cert.pdf", "scan", "dto", "2026",
    "mine", "meiner", "the good one", "some caliper", "borrowed one", "lånt", "the blue one", "der von Jens", "der übliche", "den sædvanlige", "verschiedene",
    "illegible", "unleserlich", "som leveret", "schwarz", "PETG, sort", "2,85mm", "Rolle 1 kg schwarz", "0.75 kg PC black", "Zeugnis 3.1", "EN 10204", "EN 10204 - 3.1", "type 2.2", "scan.pdf", "certificate.PDF", "2025", "my own", "unserer", "den fra Jens",
    "the one from Jens", "any caliper", "irgendein Messschieber", "en eller anden skydelære", "geliehener Messschieber", "various", "forskellige", "der alte", "the new one",
]  # fmt: skip
NUMBERS = [
    "GK-04", "MS-04", "Messschieber MS-04", "caliper 3", "caliper C-07", "caliper", "Messschieber", "skydelære", "skydelære 2", "4711", "07", "QS-Brief 12", "Lupe 10x", "Lupe", "pin gauges P-2", "pin gauge", "Lehrdorn 6 H7",
    "plug gauge G-12", "micrometer", "Bügelmessschraube", "go/no-go 6.0", "CMM", "KMG", "Lehre 3", "gauge 1", "måler 3", "A", "R", "S1", "C 0902", "F26-19", "3388", "3388 rest", "Lot 3388", "Los 12", "parti 3388", "K 118", "[MS-04]",
    "letter 12", "letter TR-25-025", "Brief vom 3.3.", "brev af 3/3", "mail 12 March", "Mail von Nordplast", "see report 12/2026", "SL-26-77", "supplier's letter SL-26-77", "report 12", "Bericht QN-26-014", "LS 99-001, powder Z", "IC-88",
    "Zeugnis 4711", "DoC", "certificate of Nordplast", "permit T-1", "FE 7", "fire note FN-99-001", "L-3: of the 25th", "test report 7", "TEST-1", "XY", "AB", "Alpha", "N-1", "Ø6 H7", "Grenzlehrdorn", "grænselære",
    "letter PP new", "note new", "report PC", "black box gauge", "1", "gauge 6 mm", "Lehre 6 mm", "Lehrdorn 10 mm", "Endmaß 10 mm", "PC-4711", "PC 0902", "rest 3388", "3.1-4711", "3.1 No. 88", "cert-88.pdf", "scan 12", "2026-11/7", "20261", "black 88", "1 kg drum 7", "digital caliper", "radius gauge",
    "feeler gauge", "thread gauge", "søgeblade", "Gewindelehre", "Messuhr", "letter of Nordplast", "Brief der Aufsicht", "LOT-A", "Zeugnis Nordplast", "the blue one, MS-04", "der von Jens, MS-04",
]  # fmt: skip


@pytest.mark.parametrize("text", NO_REASON)
def test_what_gives_no_reason(text):
    assert gives_no_reason(text)
    assert gives_no_reason(f" {text.upper()} …")


@pytest.mark.parametrize("text", REASONS)
def test_a_curt_reason_is_one(text):
    assert not gives_no_reason(text)
    assert not gives_no_reason(f"{text.upper()}!")


@pytest.mark.parametrize("text", NO_NUMBER)
def test_what_names_no_gauge_letter_or_lot(text):
    assert identifies_nothing(text)
    assert identifies_nothing(f" {text.upper()} …")


@pytest.mark.parametrize("text", NUMBERS)
def test_a_gauge_letter_or_lot_by_its_name_is_one(text):
    assert not identifies_nothing(text)
    assert not identifies_nothing(text.lower())


@given(st.lists(st.sampled_from(["ok", "geprüft", "see", "report", "wie", "besprochen", "alles", "done", "aftalt", "the", "test"]), min_size=1, max_size=6))
def test_more_of_what_says_nothing_says_no_more(words):
    assert gives_no_reason(" ".join(words))
    assert not gives_no_reason(" ".join([*words, "cracks"]))
    assert not identifies_nothing(" ".join([*words, "12"]))


def test_the_order_of_words_makes_no_reason():
    assert all(gives_no_reason(" ".join(each)) for each in permutations(("alles", "geprüft", "ok")))


def _texts(value, record, found):
    """Every text of the records that is asked to say something, by the name of its field."""
    for key, each in value.items() if isinstance(value, dict) else enumerate(value):
        if isinstance(each, dict | list):
            _texts(each, record, found)
        elif isinstance(each, str) and key in record:
            found.append((key, each))


ASKED = {field: judge for fields in TABLE.values() for field, (blank, judge) in fields.items() if blank not in {Blank.ELSEWHERE, Blank.FREE} and field not in {"name", "lot"}}


def test_every_text_of_the_demo_and_of_the_golden_depots_says_something():
    files = [*Path("catalogue").glob("**/*.yml"), *Path("tests/golden").glob("**/*.yml")]
    found = []
    for file in files:
        _texts(yaml.safe_load(file.read_bytes()) or {}, ASKED, found)
    assert len(found) > 100
    assert [each for each in found if ASKED[each[0]](each[1])] == []


@pytest.mark.parametrize(
    ("record", "field", "judge"),
    [(Unblocked, "why", gives_no_reason), (Waiver, "reason", gives_no_reason), (MeasuredCheck, "gauge", identifies_nothing), (Lot, "supplier_lot", identifies_nothing), (LotDocument, "reference", identifies_nothing)],
)
def test_records_ask_with_these(record, field, judge):
    assert TABLE[record][field] == (Blank.VOID, judge)
