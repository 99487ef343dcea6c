"""Depots' lists for the tests of `spares import`, and how a map is mended."""

LIST = """\
Nummer;Benennung;Flotte;Fahrzeuge;Einbauort;Je Fahrzeug;Sicherheitsrolle;Werkstoff;Revision;Zeichnungsnummer;Bemerkung
EX-0100;Endkappe;A1;11-12, 14;cab;2;none;petg;B;12.345-6;siehe Regal
EX-0101;Hebel;B2;21;Driver's cab;1;safety;PETG;A;;
"""
MAP = "parts.map.yml"
LETTERS = """\
Nummer;Benennung;Flotte;Fahrzeuge;Einbauort;Je Fahrzeug;Sicherheitsrolle;Werkstoff;Revision;Freigabenummer;Freigabedatum;Freigabe durch;Freigabe für;gültig bis;Freigabedatei;Auflagen
EX-0100;Endkappe;A1;11-12;cab;2;none;petg;B;TR-19-044;03.05.2019;technical office;customer;31.05.2029;letter.txt;none
EX-0101;Kappe;A1;11;cab;2;none;petg;B;TR-19-045;03.05.2019;technical office;customer;;letter.txt;none
EX-0102;Hebel;A1;11;cab;2;safety;petg;B;TR-19-046;03.05.2019;technical office;customer;31.05.2029;letter.txt;none
"""
WHOLE = LETTERS.splitlines()[1]


def mended(depot, *pairs):
    """The proposed map with what a person changes in it."""
    text = (depot / MAP).read_text("utf-8")
    for before, after in pairs:
        assert before in text
        text = text.replace(before, after)
    (depot / MAP).write_text(text, "utf-8")


def last(out):
    return out.splitlines()[-1]
