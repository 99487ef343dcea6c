"""Words that say nothing by themselves: a text of them alone is no reason, and names no gauge, letter or lot, however many there are.

In the languages of depots, as data; from memory, no source. One word that is not here, or a number beside them, makes it an answer, but in what empty_sayings.py
holds: "see report" says nothing, "see report 12" and "see drawing" do. What cannot be known here is whether an answer is a good one.
"""

import re
import unicodedata
from typing import Final

from generator.records.empty_sayings import is_unnamed, without_sayings

# Where it might stand, which nobody finds.
_ELSEWHERE: Final = {
    "en": "vide supra infra dto see look number value refer cf verbally orally same ditto idem report reports file files mail email letter attachment attached annex appendix note notes record records above below document documents paper papers system ticket folder phone"
          " telephone call minutes there here",
    "de": "dto siehe sieh nummer wert beiblatt mündlich dito ebenso vgl lt laut bericht prüfbericht protokoll datei akte akten schreiben brief anhang anlage beilage anliegend beigefügt oben unten dokument dokumente unterlagen ordner notiz"
          " vermerk telefon telefonisch gespräch dort hier meldung s",
    "da": "se nummer værdi mundtligt mundtlig samme ditto jf jfr ifølge iflg rapport fil filen brev mailen bilag vedlagt vedlagte vedhæftet vedhæftede ovenfor nedenfor dokument dokumenter mappe notat telefon telefonisk samtale"
          " referat dér der her journal",
}  # fmt: skip
# That it is good, which is what is asked.
_GOOD: Final = {
    "en": "ok okay fine good great well alright right clear sure yes pass accepted acceptable allowed approved correct true exactly okey oki okidoki yep top",
    "de": "gut prima super klar passt ordnung richtig ja genehmigt akzeptiert zulässig erlaubt einwandfrei bestens jo io jep jawohl genau top tiptop",
    "da": "godt fint orden klart rigtigt ja godkendt accepteret tilladt super fin jep",
}  # fmt: skip
# That somebody did or said something, not what; "tested" is a curt reason.
_DONE: Final = {
    "en": "sorted clarified done finished completed checked reviewed verified confirmed looked discussed agreed decided said told known usual usually always requested instructed asked"
          " solved resolved closed fixed lifted unblocked released check checks inspection review release lift unblock say says boss test tests testing",
    "de": "geklärt abgeklärt geregelt erledigt fertig gemacht geprüft kontrolliert begutachtet bestätigt verifiziert angeschaut angesehen besprochen abgesprochen vereinbart entschieden gesagt bekannt üblich immer"
          " gewünscht angewiesen gelöst abgeschlossen behoben aufgehoben entsperrt freigegeben rücksprache absprache abstimmung anweisung prüfung kontrolle freigabe freigeben aufheben entsperren chef sagt",
    "da": "afklaret ordnet færdig udført gjort kontrolleret bekræftet verificeret aftalt drøftet besluttet sagt kendt sædvanlig sædvanligt altid ønsket anvist løst afsluttet"
          " ophævet frigivet aftale kontrol frigivelse frigiv ophæv ophævelse chef chefen siger",
}  # fmt: skip
# What the field itself is called, and what nobody has written there.
_ASKED: Final = {
    "en": "reason reasons why because therefore cause explanation justification statement information info details detail text given stated named reference ref answer comment comments remark remarks details later soon coming comes will added add enter insert your fill filled type write placeholder todo fixme changeme",
    "de": "grund gründe begründung warum weil wieso weshalb darum deshalb erklärung erläuterung angabe angaben information details text angegeben genannt referenz antwort bemerkung bemerkungen kommentar anmerkung später bald kommt demnächst nachgereicht eingeben eintragen ausfüllen platzhalter",
    "da": "grund årsag årsager begrundelse begrundet hvorfor fordi derfor forklaring oplysning oplysninger information detaljer tekst angivet nævnt reference svar bemærkning bemærkninger kommentar senere snart kommer skriv angiv indtast udfyld pladsholder",
}  # fmt: skip
# What only holds words together.
_BETWEEN: Final = {
    "en": "me last time a an the of in on at by to for from with and or as is are was were be been has have had it its this that these those all everything any some so just only please per via now already again after i we they he she",
    "de": "beim letztes letzte letzten mal der die das den dem des ein eine einen einem einer in im auf an am bei zu zum zur für von vom mit und oder wie als ist sind war waren wird wurde wurden sei hat haben es er sie wir ich man alle"
          " alles dies diese dieses so nur bitte per gem gemäß nach jetzt bereits schon wieder worden irgendein irgendeinen",
    "da": "sidste sidst gang en et den det de i på ved til for fra med og eller som er var blev bliver har havde vi jeg man alle dette denne disse så kun venligst pr efter nu allerede igen af at blevet",
}  # fmt: skip
_NOT: Final = {
    "en": "no not none without never nothing",
    "de": "kein keine keinen keiner nicht ohne nie nichts",
    "da": "ingen ikke uden aldrig intet ej",
}  # fmt: skip
# Where a number, a gauge or a letter stands, or that there is one: no name of it.
_THING: Final = {
    "en": "illegible unreadable print printed imprint delivered cert pdf jpg jpeg png tif tiff docx img scan scanned mine my ours own one ones borrowed various several different gauge gauges gage instrument instruments tool tools device spool reel drum bag label lot batch certificate supplier eye eyes visual visually inspection sight feel certain somewhere whichever available usual",
    "de": "unlesbar unleserlich aufdruck aufgedruckt geliefert angeliefert meiner meine meins mein unserer unsere unser geliehen geliehene geliehener geliehenes gute guten guter übliche üblicher üblichen übliches verschiedene verschiedenes diverse mehrere messmittel prüfmittel messgerät messgeräte messzeug lehre gerät werkzeug rolle spule fass beutel etikett aufkleber los charge zeugnis bescheinigung lieferant augenmaß auge gefühl augenschein visuell"
          " sicht sichtprüfung sichtkontrolle irgendeine irgendein irgendeiner irgendwelche irgendwas irgendwo irgend vorhanden nr num",
    "da": "ulæselig ulæseligt påtryk påtrykt trykt leveret min mit mine vores lånt lånte gode sædvanlige forskellige flere diverse måleværktøj måleinstrument måleudstyr måler værktøj udstyr spole rulle rullen spolen tromle tromlen pose etiket etiketten mærkat parti partiet serie attest certifikat leverandør øjemål øje syn synskontrol visuelt"
          " følelse en nogen noget hvilken helst anden nr",
}  # fmt: skip
# That it is wanted soon.
_HURRY: Final = {
    "en": "urgent urgently needed need needs today tomorrow asap rush hurry immediately waiting",
    "de": "eilt eilig dringend heute morgen sofort gebraucht benötigt braucht brauchen wartet",
    "da": "haster hast hurtigst straks akut dag morgen bruges venter",
}  # fmt: skip
# That it is hoped to be good.
_HOPED: Final = {
    "en": "should would could might may must think believe hope hopefully probably maybe seems",
    "de": "müsste muss sollte soll könnte dürfte kann gehen passen wohl vermutlich vielleicht hoffentlich denke glaube",
    "da": "burde bør må kan skal nok vist måske formentlig forhåbentlig håber tror",
}  # fmt: skip
# Names that many have, behind what says nothing; by itself none of them is a reason.
_PEOPLE: Final = {
    "en": "smith jones taylor williams",
    "de": "meier meyer maier mayer müller schmidt schmitt schulz schulze schneider fischer weber wagner becker hoffmann",
    "da": "hansen jensen nielsen andersen pedersen sørensen larsen rasmussen christensen",
}  # fmt: skip
LANGUAGES = _HURRY.keys() & _HOPED.keys() & _PEOPLE.keys() & _ELSEWHERE.keys() & _GOOD.keys() & _DONE.keys() & _ASKED.keys() & _BETWEEN.keys() & _NOT.keys() & _THING.keys()
"""The languages of depots whose words stand here, each by its code."""
# What is typed to fill a field, and the keys that lie side by side.
_FILLER: Final = frozenset(
    ("test", "tests", "testing", "lorem", "ipsum", "dolor", "sit", "amet", "foo", "bar", "baz", "bla", "blah", "dummy", "example", "beispiel", "eksempel", "xyz", "hm", "hmm", "egal", "whatever", "thanks", "danke", "tak", "null", "nan", "undefined", "nope")
)  # fmt: skip
KEYS: Final = ("qwertyuiop", "qwertzuiop", "asdfghjkl", "zxcvbnm", "yxcvbnm", "abcdefghijklmnopqrstuvwxyz")
# Behind a word or two, it says that an answer comes; "missing" and "open" are left out, for a screw can be missing.
_TO_COME: Final = (
    *(f"{soon} {done}" for done in ("nachgereicht", "nachgetragen", "nachgeliefert") for soon in ("wird", "werden", "noch", "später", "bald")),  # "Zeugnis nachgereicht" has come
    "follow", "follows", "pending", "tbd", "tbc", "to come", "comes later", "folgt", "folgen", "folgt noch", "folgt später", "kommt noch", "kommt später",
    "wird ergänzt", "ausstehend", "steht aus", "steht noch aus", "in klärung", "zu klären", "følger", "følger senere", "kommer senere", "eftersendes", "afventer", "afventes",
    "udestår", "under afklaring", "afklares", "udfyldes",
)  # fmt: skip
_FEW: Final = 2
_SPELT: Final = str.maketrans({"ä": "ae", "ö": "oe", "ü": "ue", "å": "aa", "æ": "ae", "ø": "oe"})
_WORD: Final = re.compile(r"[^\W\d_]+|\d+")
_HOLE: Final = re.compile(r"<[^<>]*>|\{[^{}]*\}|\[[^\[\]\d]*\]")
_PARTED: Final = re.compile(r"(?<!n )\b(o|i|e|s) (k|o|mail|u)\b")
"""Words that dots part: "o. k.", "i. O.", "e-mail", "s. o."; not "n. i. O.", which says that it is not good."""
_ALL_GOOD: Final = re.compile(r"\balt (?=(?:er )?(?:ok|okay|godt|fint|i orden)\b)")
"""Danish "alt" is German for old."""
_LEAST_OF_KEYS: Final = 3


def spelt(text: str) -> str:
    """In small letters, however an umlaut is typed, without signs that nobody sees."""
    plain = unicodedata.normalize("NFKC", text).casefold().translate(_SPELT)
    return "".join(sign for sign in plain if unicodedata.category(sign) != "Cf")


def _all_of(*tables: dict[str, str]) -> frozenset[str]:
    return frozenset(spelt(word) for table in tables for words in table.values() for word in words.split())


_DENIED: Final = _all_of(_NOT)
_OF_THE_FIELD: Final = _all_of(_ASKED)
_NAMES: Final = _all_of(_PEOPLE)
_NO_REASONS: Final = _all_of(_ELSEWHERE, _GOOD, _DONE, _ASKED, _BETWEEN, _NOT, _HURRY, _HOPED) | _FILLER
NO_NUMBERS: Final = _NO_REASONS | _all_of(_THING)
"""Words that name no gauge, letter or lot; for a program that asks in the browser, as are KEYS and ENDS."""
ENDS: Final = tuple(sorted(map(spelt, _TO_COME)))


def is_empty_reason(text: str) -> bool:
    """Whether it gives no reason: words that say nothing, a template's hole, keys struck blindly, or that a reason comes. What is denied is one, unless it is the reason: "not good", but "no reason given"."""
    words = without_sayings(" ".join(_words(text))).split()
    is_denied = not _DENIED.isdisjoint(words) and not _DENIED.issuperset(words) and _OF_THE_FIELD.isdisjoint(words)
    bare = [each.rstrip("0123456789") for each in words]
    is_empty = all(each in _NO_REASONS or each in _NAMES or left in _FILLER or _is_struck_blindly(left) for each, left in zip(words, bare, strict=True))
    return (is_empty and not is_denied) or len("".join(words)) == 1 or _comes_later(text)


def is_empty_number(text: str) -> bool:
    """The same of what names a gauge, a letter or a lot; any figure names one, and so does a letter at the end: "gauge A"."""
    words = _words(text)
    is_lettered = bool(words) and len(words[-1]) == 1
    return (not is_lettered and all(each in NO_NUMBERS or _is_struck_blindly(each) for each in words)) or is_unnamed(words) or _comes_later(text)


def _words(text: str) -> list[str]:
    """Outside of <…>, {…} and […], which a template leaves to be filled; figures stay with the letters before them."""
    whole = " ".join(re.findall(r"[^\W_]+", _HOLE.sub(" ", _HOLE.sub(" ", spelt(text)))))
    return _ALL_GOOD.sub("", _PARTED.sub(r"\1\2", whole)).split()


def _comes_later(text: str) -> bool:
    """A word or two that end in what says that something comes."""
    words = _words(text)
    said = " ".join(words)
    end = max((each for each in ENDS if f" {said}".endswith(f" {each}")), key=len, default=None)
    if end is None or any(sign.isdecimal() or sign in ",;" for sign in text):
        return False
    return len([each for each in words[: len(words) - len(end.split())] if each not in NO_NUMBERS]) <= _FEW


def _is_struck_blindly(word: str) -> bool:
    """One letter over and over, keys side by side, or a word that says nothing again and again."""
    unit = word[: (word + word).find(word, 1)] if word else ""
    if len(word) < _LEAST_OF_KEYS:
        return False
    is_beside = any(unit in row if len(unit) > _LEAST_OF_KEYS else row.startswith(unit) for row in KEYS)
    return len(unit) == 1 or (unit != word and unit in NO_NUMBERS) or (len(unit) >= _LEAST_OF_KEYS and is_beside)
