"""What a part fits, what it is made of, and what people write in place of it."""

from openpyxl.comments import Comment
from openpyxl.styles import Alignment, Font, PatternFill
from openpyxl.worksheet.datavalidation import DataValidation

from tests.importing.lists.making import EN, book, case, csv, raw, save


def vehicle_lists_33():
    wb, _ws = book(
        [
            ["Teilenummer", "Benennung", "Flotte", "Wagen"],
            ["K-3301", "a", "K1", "401-412, 415"],
            ["K-3302", "b", "K1", "401–412; 415"],
            ["K-3303", "c", "K1", 401.415],
            ["K-3304", "d", "K1", 401],
            ["K-3305", "e", "K1", 401415],
            ["K-3306", "f", "K1", "412-401"],
            ["K-3307", "g", "K1", "499"],
            ["K-3308", "h", "K3", "B31-39"],
            ["K-3309", "i", "K3", "B31-B39"],
            ["K-3310", "j", "K1", "401-4012"],
            ["K-3311", "k", "K1", "401,,402"],
            ["K-3312", "l", "K1", "401 bis 412"],
            ["K-3313", "m", "K1, K3", "401, B31"],
        ]
    )
    save(wb, "33_vehicle_lists.xlsx")
    case(
        "33_vehicle_lists.xlsx",
        "Vehicle lists in one cell (fleet K1 = 401–420, K3 = B31–B39)",
        13,
        ["K-3301", "K-3302", "K-3304", "K-3309"],
        [(4, "Wagen", "401.415: a list that became a number?"), (6, "Wagen", "401415: no such vehicle"), (7, "Wagen", "runs backwards"), (8, "Wagen", "no vehicle 499 in K1"), (11, "Wagen", "to 4012: outside K1")],
        either=["row 9 'B31-39': read as B31–B39 and said, or refused", "row 12: empty item refused or dropped and said", "row 13 'bis': read or refused", "row 14: one part, two fleets; or refused with 'one fleet a row'"],
        never=["vehicle 401 only, from 401.415", "an empty range = fits all"],
    )


def vehicle_words_34():
    csv(
        "34_vehicle_words.csv",
        [
            "Teilenummer;Benennung;Flotte;Wagen",
            "K-3401;a;K1;alle",
            "K-3402;b;K1;alle außer 407",
            "K-3403;c;K1;ab 405",
            "K-3404;d;K1;401/402",
            "K-3405;e;K1;401 ff.",
            "K-3406;f;K1;",
            "K-3407;g;K1;?",
            "K-3408;h;K1;nicht 401",
            "K-3409;i;;401",
            "K-3410;j;alle;alle",
            "K-3411;k;K9;401",
            "K-3412;l;K1;401 (nur links), 402",
        ],
    )
    case(
        "34_vehicle_words.csv",
        "Words instead of numbers",
        12,
        [],
        [(3, "Wagen", "'außer' is not understood"), (6, "Wagen", "'ff.'"), (8, "Wagen", "?"), (9, "Wagen", "'nicht'"), (12, "Flotte", "no fleet K9"), (13, "Wagen", "'(nur links)'")],
        either=["'alle' read as the whole fleet and said, or refused; 'ab 405' likewise; '401/402' likewise", "row 7 empty: refused, or written with no vehicle and said (never the whole fleet)", "row 10: fleet by vehicle if only one has 401, or refused", "row 11: refused or all"],
        never=["'alle außer 407' fits 407", "'nicht 401' fits 401"],
    )


def materials_35():
    csv(
        "35_materials.csv",
        ["Teilenummer;Benennung;Werkstoff", "K-3501;a;petg-fr", "K-3502;b;PETG-FR", "K-3503;c;PC/ABS", "K-3504;d;petg-fr oder pc-black", "K-3505;e;petg-fr + Gewindeeinsatz M4", "K-3506;f;Stahl", "K-3507;g;wie Muster", "K-3508;h;", "K-3509;i;petg", "K-3510;j;petg-fr, geprüft EN 45545 HL3"],
    )
    case(
        "35_materials.csv",
        "Several materials, none, nearly the right one, one with a claim",
        10,
        ["K-3501"],
        [
            (4, "Werkstoff", "no material PC/ABS here", "name it in the map"),
            (5, "Werkstoff", "two materials"),
            (6, "Werkstoff", "more than a material"),
            (7, "Werkstoff", "no material Stahl"),
            (8, "Werkstoff", "no material"),
            (10, "Werkstoff", "petg: did you mean petg-fr?"),
            (11, "Werkstoff", "more than a material"),
        ],
        either=["row 3: case-insensitive match said, or refused", "unknown material written as unknown, verdict Ask first at best, and listed: then not in refused", "row 9 empty: unknown, Ask first at best; or refused"],
        never=["petg taken for petg-fr", "the first of two taken", "'HL3' from a cell becomes fire evidence"],
    )


def empty_required_36():
    csv("36_empty_required.csv", ["Teilenummer;Benennung;Flotte", ";ohne Nummer;K1", "K-3602;;K1", "K-3603;-;K1", "K-3604;n/a;K1", "-;Strich;K1", "K-3606;TBD;K1", ";;K1", "K-3608;ok;"])
    case(
        "36_empty_required.csv",
        "Empty or filler in a required column",
        8,
        ["K-3608"],
        [(2, "Teilenummer", "empty"), (3, "Benennung", "empty"), (6, "Teilenummer", "'-'"), (8, "Teilenummer", "empty")],
        either=["rows 4, 5, 7: filler refused, or written as it stands and warned"],
        never=["numbers made up by the program", "row 8 dropped as blank"],
    )


def line_breaks_37():
    raw("37_line_breaks.csv", (b'Teilenummer;Benennung;Bemerkung\r\nK-3701;"Knopf\r\ngrau";"1. a\n2. b"\r\n"K-37\r\n02";Kappe;x\r\nK-3703;Stab;y\r\n'))
    case(
        "37_line_breaks.csv",
        "Line breaks inside cells; refusals count the row, not the line",
        3,
        ["K-3701", "K-3703"],
        [(3, "Teilenummer", "a line break inside a number")],
        either=["name 'Knopf grau' (break → space) said", "row 2 refused"],
        never=["rows = 6", "a YAML file broken by the break", "row named 3 in one message and line 5 in another without saying which"],
    )


def line_breaks_37_again():
    wb, ws = book([["Teilenummer", "Benennung", "Bemerkung"], ["K-3751", "Knopf\ngrau", "a_x000D_\nb"], ["K-3752", "Kappe_x0041_", "x"]])
    ws["B2"].alignment = Alignment(wrap_text=True)
    save(wb, "37_line_breaks.xlsx")
    case("37_line_breaks.xlsx", "Wrapped cells and _x000D_ escapes", 2, ["K-3751", "K-3752"], never=["'_x000D_' on a page"])


def injection_38():
    csv("38_injection.csv", ["Part no.;Description;Note", "K-3801;=cmd|'/c calc'!A0;x", "K-3802;@SUM(1+1);x", "K-3803;+1+1;x", "K-3804;-2+3;x", '=HYPERLINK("http://x.invalid");knob;x', 'K-3806;knob;"=1+1"'])
    case(
        "38_injection.csv",
        "Cells that become commands when the list is opened again",
        6,
        ["K-3806"],
        [(6, "Part no.", "begins with =")],
        either=["names kept as text in part.yml, and every csv that the program writes later guards them (leading ' or quoted)", "rows 2–5 refused"],
        never=["any csv or report of refusals that the program writes carries a live formula", "evaluated"],
    )


def unbalanced_quotes_39():
    raw("39_unbalanced_quotes.csv", (b'Part no.;Description;Length mm\r\nK-3901;"Knob;10\r\nK-3902;Cap;20\r\nK-3903;1/2" plug;30\r\n'))
    case(
        "39_unbalanced_quotes.csv",
        "A quote that never closes swallows the rest",
        3,
        [],
        [(2, "Description", "a quote opens and does not close")],
        either=["whole file refused naming line 2", "row 2 refused, K-3902 and K-3903 written ('1/2\" plug' kept)"],
        never=["one part with a name of three lines", "rows = 1 and 'all written'"],
    )


def nul_bytes_40():
    raw("40_nul_bytes.csv", b"Part no.;Description;Length mm\r\nK-4001;Kn\x00ob;10\r\nK-4002;Cap;20\r\nK-40\x0003;Plug;1\r\n")
    case("40_nul_bytes.csv", "NUL bytes in name and number", 3, ["K-4002"], [(2, "Description", "a NUL byte"), (4, "Part no.", "a NUL byte")], either=["whole file refused: not text"], never=["traceback '_csv.Error: line contains NUL'", "cut off at the NUL"])


def safety_words_63():
    csv("63_safety_words.csv", ["Part no.;Description;Safety part", "K-6301;a;yes", "K-6302;b;no", "K-6303;c;", "K-6304;d;?", "K-6305;e;x", "K-6306;f;nej", "K-6307;g;WAHR", "K-6308;h;0", "K-6309;i;no (see file)", "K-6310;j;partly", "K-6311;k;S2"])
    case(
        "63_safety_words.csv",
        "Is it a safety part? Eleven answers",
        11,
        ["K-6301", "K-6302"],
        [(5, "Safety part", "?"), (10, "Safety part", "'no (see file)'"), (11, "Safety part", "partly"), (12, "Safety part", "S2")],
        either=["rows 4, 6–9: understood through the map's words, or refused; unknown is never 'no'"],
        never=["empty or unreadable = not a safety part"],
    )


def approval_columns_64():
    csv(
        "64_approval_columns.csv",
        [
            "Teilenummer;Benennung;Freigabe;Freigabe von;Schreiben;gültig bis",
            "K-6401;a;ja;;;",
            "K-6402;b;ja;Aufsicht;A-17.pdf;",
            "K-6403;c;freigegeben 2011;Kunde;;",
            "K-6404;d;nein;;;",
            "K-6405;e;ja;Aufsicht;../../A-17.pdf;31.12.2030",
            "K-6406;f;mündlich;Meister;;",
            "K-6407;g;ja;Aufsicht;A-17.pdf;unbefristet",
            "K-6408;h;zurückgezogen;Aufsicht;A-18.pdf;",
        ],
    )
    case(
        "64_approval_columns.csv",
        "Approvals that lived in the list",
        8,
        ["K-6401", "K-6402", "K-6403", "K-6404", "K-6406", "K-6407", "K-6408"],
        [(6, "Schreiben", "a path that leads out of the folder")],
        either=["parts written without any approval, the columns kept as a note for 'taken over'", "rows with approval words but no letter refused in the column Freigabe"],
        never=["any part is Fit it after import alone", "'ja' becomes an approved step or a date", "'zurückgezogen' lost: must be Do not fit or refused", "letter read from outside the folder"],
    )


def yaml_traps_65():
    csv(
        "65_yaml_traps.csv",
        ["Part no.;Description;Colour"]
        + [
            f"K-65{i:02d};{v};{v}"
            for i, v in enumerate(["no", "NO", "null", "~", "yes", "1:30", "0x1F", "0o17", "12e3", "*ref", "&a", "{a: b}", "- x", "# note", "a: b", "a #b", "!!python/object/apply:os.system [x]", "2019-03-17", "'", "\\", "%TAG", "@x", "|", "> y", "1_000", ".inf", "<<", "true"], 1)
        ],
    )
    case(
        "65_yaml_traps.csv",
        "Names that YAML would read as something else",
        28,
        [f"K-65{i:02d}" for i in range(1, 29)],
        never=["a name that comes back from part.yml other than it was in the list (read it back and compare, as text)", "a number 0123 or 1_000 that comes back as an integer", "an error from `check` about a file that import wrote"],
    )
    csv(
        "66_markup.csv",
        [
            "Part no.;Description",
            "K-6601;<script>alert(1)</script>",
            "K-6602;[x](javascript:alert(1))",
            "K-6603;{{ 7*7 }} {% raw %}",
            "K-6604;a | b | c",
            "K-6605;*bold* _u_ `code`",
            "K-6606;<img src=x onerror=alert(1)>",
            "K-6607;&lt;b&gt; &amp;",
            "K-6608;${7*7} #{x}",
            "K-6609;--- title: x ---",
            "K-6610;![](http://x.invalid/p.png)",
        ],
    )
    case("66_markup.csv", "Markup in names", 10, [f"K-66{i:02d}" for i in range(1, 11)], never=["markup works on any page, label or PDF", "49 instead of {{ 7*7 }}", "a table broken by |", "a request to another host", "'&lt;b&gt;' shown as a bold nothing"])


def meaning_in_colour_69():
    wb, ws = book([EN, ["K-6901", "Struck out", "K1", "401", "petg-fr", 1], ["K-6902", "Red = do not use", "K1", "401", "petg-fr", 1], ["K-6903", "With a remark", "K1", "401", "petg-fr", 1]])
    for c in ws[2]:
        c.font = Font(strike=True)
    for c in ws[3]:
        c.fill = PatternFill("solid", fgColor="FFFF0000")
    ws["A4"].comment = Comment("withdrawn, see letter", "workshop")
    dv = DataValidation(type="list", formula1='"K1,K3"')
    ws.add_data_validation(dv)
    dv.add("C2:C9")
    save(wb, "69_meaning_in_colour.xlsx")
    case(
        "69_meaning_in_colour.xlsx",
        "Struck-out row, red row, a remark 'withdrawn'",
        3,
        ["K-6901", "K-6902", "K-6903"],
        either=["written, and the dry run says 'row 2 is struck out, row 3 is coloured, A4 carries a remark: look'", "struck-out row refused"],
        never=["a struck-out part becomes orderable with no word"],
    )


STORIES = (
    vehicle_lists_33,
    vehicle_words_34,
    materials_35,
    empty_required_36,
    line_breaks_37,
    line_breaks_37_again,
    injection_38,
    unbalanced_quotes_39,
    nul_bytes_40,
    safety_words_63,
    approval_columns_64,
    yaml_traps_65,
    meaning_in_colour_69,
)
