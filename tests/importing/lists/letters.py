"""In which letters a list was written, what stands between its cells, and how it writes numbers."""

from tests.importing.lists.making import DA, DE, EN, MOJI, case, csv, raw


def de_semicolon_cp1252_01():
    csv("01_de_semicolon_cp1252.csv", [";".join(DE), "K-0101;Türknopf, grau;K1;401-412;petg-fr;49,5", "K-0102;Fußleiste;K1;401-420;pc-black;1.250,0", "K-0103;Größenschild „Öl“;K1;407;petg-fr;60", "K-0104;Abdeckung €-Automat;K1;401;petg-fr;80,25"], "cp1252")
    case("01_de_semicolon_cp1252.csv", "Saved from a German office PC", 4, ["K-0101", "K-0102", "K-0103", "K-0104"], never=[MOJI, "49.5 read as 495", "1.250,0 read as 1.25"], note="lengths 49.5 / 1250 / 60 / 80.25; quotes „ “ are cp1252 bytes 84/93, € is 80")


def da_utf8_bom_02():
    csv("02_da_utf8_bom.csv", [";".join(DA), "K-0201;Dørgreb, højre;K1;401-412;petg-fr;42,0", "K-0202;Ærmeholder til åbningsknap;K1;B31;pc-black;12,5"], "utf-8-sig")
    case("02_da_utf8_bom.csv", "The byte order mark must not become part of the first heading", 2, ["K-0201", "K-0202"], never=["the first heading is not recognised because of an invisible mark", "U+FEFF in a proposed map"])


def en_utf16_tabs_03():
    raw("03_en_utf16_tabs.csv", "\ufeff".encode("utf-16-le") + ("\r\n".join(["\t".join(EN), "K-0301\tSeat rail end plug\tK1\t401\tpetg-fr\t31.5", "K-0302\tBlind cap Ø 12\tK1\t402\tpetg-fr\t12"]) + "\r\n").encode("utf-16-le"))
    case("03_en_utf16_tabs.csv", "'Unicode text' export: UTF-16 with tabs, named .csv", 2, ["K-0301", "K-0302"], either=["read as UTF-16 with tabs, 2 written", "whole file refused: 'UTF-16; save as UTF-8 or xlsx' (rows in = 0, exit not 0)"], never=["NUL characters in a name"])


def de_utf16be_no_bom_04():
    raw("04_de_utf16be_no_bom.csv", ("\r\n".join([";".join(DE), "K-0401;Türknopf;K1;401;petg-fr;49,5"]) + "\r\n").encode("utf-16-be"))
    case("04_de_utf16be_no_bom.csv", "UTF-16 big-endian without a mark", 1, ["K-0401"], either=["read, 1 written", "whole file refused with the encoding named"], never=["a part named with NULs between the letters", "traceback"])


def mixed_encodings_05():
    raw("05_mixed_encodings.csv", (";".join(DE) + "\r\nK-0501;Türknopf;K1;401;petg-fr;49,5\r\n").encode("cp1252") + "K-0502;Lüfterblende;K1;402;petg-fr;20\r\n".encode() + "K-0503;Handgriff;K1;403;petg-fr;30\r\n".encode("ascii"))
    case(
        "05_mixed_encodings.csv",
        "Two colleagues' lists pasted together: cp1252 and UTF-8 lines in one file",
        3,
        [],
        either=["whole file refused: 'neither UTF-8 nor one code page all through: line 2 / line 3'", "K-0503 written; rows 2 or 3 refused with the column Benennung named"],
        never=[MOJI + " — 'LÃ¼fterblende' written is the failure"],
    )


def da_cp850_06():
    csv("06_da_cp850.csv", ["Varenr.;Betegnelse;Litra", "K-0601;Dørgreb på bagvæg;K1", "K-0602;Lågehængsel;K1"], "cp850")
    case(
        "06_da_cp850.csv",
        "Export of an old DOS stock program (code page 850)",
        2,
        [],
        either=["whole file refused, asking for `encoding:` in the map (the proposed map shows a sample of the text)", "read as cp1252 only if the reader said so — then the sample is shown in the dry run"],
        never=["'D›rgreb p† bagv‘g' written silently"],
        note="with encoding: cp850 in the map: 2 written, 'Dørgreb på bagvæg'",
    )


def thousands_and_decimals_07():
    csv(
        "07_thousands_and_decimals.csv",
        ["Teilenummer;Benennung;Länge mm", "K-0701;A;1.234,5", "K-0702;B;1,234.5", "K-0703;C;1.234", "K-0704;D;1,234", "K-0705;E;1 234,5", "K-0706;F;1'234.5", "K-0707;G;12.34.5", "K-0708;H;,5", "K-0709;I;1e3", "K-0710;J;-5", "K-0711;K;0", "K-0712;L;NaN", "K-0713;M;1.234\u202f567,8"],
        "utf-8-sig",
    )
    case(
        "07_thousands_and_decimals.csv",
        "Everyone's way of writing a length",
        13,
        ["K-0701", "K-0708"],
        [
            (4, "Länge mm", "1.234: one thousand or one and a bit?", "say `decimal: comma` in the map"),
            (5, "Länge mm", "1,234 ambiguous", "same"),
            (8, "Länge mm", "two points", "mend the cell"),
            (11, "Länge mm", "a length below zero"),
            (12, "Länge mm", "a length of zero"),
            (13, "Länge mm", "NaN is no length"),
        ],
        either=["with `decimal: comma` declared: rows 2, 4(=1234), 5(=1.234), 6(=1234.5), 9 written; 3 (1,234.5) refused", "mixed marks in one column → all rows with a mark refused"],
        never=["one column read with two conventions", "1e3 becomes 1000 unless said", "NaN or inf reaches a record"],
        note="rows 6, 7, 10, 14: written or refused, but said",
    )


def units_in_cells_08():
    csv(
        "08_units_in_cells.csv",
        ["Part no.;Description;Length mm;Mass g", "K-0801;Plug;42 mm;12 g", "K-0802;Cap;4.2 cm;0.012 kg", 'K-0803;Knob;1 5/8";12', "K-0804;Strip;approx. 40;12", "K-0805;Bush;40 ±0.2;12", "K-0806;Ring;Ø 12;12", "K-0807;Bar;40-42;12", "K-0808;Tube;40 x 20;12", "K-0809;Disc;40*;12", "K-0810;Ear;?;-"],
    )
    case(
        "08_units_in_cells.csv",
        "Units, tolerances and doubts typed into the cell",
        10,
        ["K-0801"],
        [(4, "Length mm", "inches"), (5, "Length mm", "'approx.' is no measure"), (8, "Length mm", "a range, not one length"), (9, "Length mm", "two measures in one cell"), (11, "Length mm", "'?'")],
        either=["row 3: 4.2 cm → 42 mm (unit read) or refused; 0.012 kg → 12 g or refused", "row 6: 40 with the tolerance dropped must be said, else refused", "row 11: size left empty and said, or refused"],
        never=["4.2 or 0.012 written as mm / g", "1 5/8 read as 1 or 15/8", "2 May 1940"],
    )


def unit_in_heading_fights_09():
    csv("09_unit_in_heading_fights.csv", ["Teilenummer;Benennung;Masse [g];Masse (kg);Länge [cm]", "K-0901;Knopf;12;0,012;4,2", "K-0902;Kappe;12;0,12;4,2"])
    case("09_unit_in_heading_fights.csv", "Two mass columns, one cm column", 2, ["K-0901"], [(3, "Masse (kg)", "12 g and 0.12 kg are not the same")], either=["map proposes one of the two mass columns and names the other as not taken; both rows written", "as listed"], never=["4.2 mm"])


STORIES = (
    de_semicolon_cp1252_01,
    da_utf8_bom_02,
    en_utf16_tabs_03,
    de_utf16be_no_bom_04,
    mixed_encodings_05,
    da_cp850_06,
    thousands_and_decimals_07,
    units_in_cells_08,
    unit_in_heading_fights_09,
)
