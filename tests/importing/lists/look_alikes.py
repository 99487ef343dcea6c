"""What is not seen, looks alike, or is a bad name for a folder."""

from tests.importing.lists.making import case, csv


def spaces_24():
    csv("24_spaces.csv", [" Teilenummer ;Benennung\u00a0; Flotte", "K-2401 ;Knopf  grau ;K1", "\u00a0K-2402;\tKappe;K1 ", "K\u00a02403;Stab;K1", "K 2404;Griff;K1", "K-2401;Knopf;K1", "K\u20112406;nicht trennender Bindestrich;K1", "K–2407;Gedankenstrich;K1"])
    case(
        "24_spaces.csv",
        "Spaces before, after, within; hyphens that are not hyphens",
        7,
        ["K-2401", "K-2402"],
        [(6, "Teilenummer", "K-2401 comes twice (row 2 has a space behind it)")],
        either=["rows 4, 5: space within a number refused, or kept and said", "rows 7, 8: refused naming U+2011/U+2013, or mended to '-' and said"],
        never=["two parts 'K-2401' and 'K-2401 '", "a folder name that ends in a space"],
    )


def invisible_25():
    csv("25_invisible.csv", ["Teilenummer;Benennung;Flotte", "K-25\u00ad01;Tür\u00adknopf;K1", "K-25\u200b02;Kappe;K1", "\u200eK-2503\u200f;Stab;K1", "K-2504;Griff \u202egnp.exe;K1", "K-25\u2060 05;x;K1", "K-2501;Türknopf;K1", "\ufeffK-2507;y;K1", "K-2508;\u0007Glocke\u001b[31mrot;K1"])
    case(
        "25_invisible.csv",
        "Soft hyphen, zero width, direction marks, control characters",
        8,
        ["K-2507", "K-2508"],
        [(7, "Teilenummer", "the same as row 2 once the soft hyphen is gone")],
        either=["invisible characters removed and each said (rows 2–6, 8, 9)", "rows refused, naming the character by U+ number, row and column"],
        never=["two parts that look alike on every page", "escape sequence printed raw to the terminal by the report", "right-to-left override in a page or file name"],
    )


def homoglyphs_26():
    csv("26_homoglyphs.csv", ["Part no.;Description;Fleet", "A-104;Knob;K1", "\u0410-104;Knob;K1", "A-1O4;Knob;K1", "A-lO4;Knob;K1", "Α-105;Cap (Greek);K1"])
    case(
        "26_homoglyphs.csv",
        "Cyrillic А, Greek Α, letter O for nought, l for 1",
        5,
        ["A-104"],
        [(3, "Part no.", "letter U+0410 looks like A"), (6, "Part no.", "letter U+0391 looks like A")],
        either=["rows 4, 5: written but warned 'looks like A-104', or refused"],
        never=["row 3 taken as a repeat of row 2 or written beside it without a word"],
    )


def duplicates_27():
    csv("27_duplicates.csv", ["Part no.;Description;Length mm", "K-2701;Knob;10", "K-2701;Knob;10", "K-2702;Cap;10", "K-2702;Cap left;12", "K-2703;Plug;1"])
    case(
        "27_duplicates.csv",
        "The same row twice; the same number with other words",
        5,
        ["K-2703"],
        [(3, "Part no.", "also in row 2"), (5, "Part no.", "also in row 4 with other values")],
        either=["first of each written, second refused", "both rows of a pair refused"],
        never=["the last row wins silently", "a merged part", "an order-dependent result without naming both rows"],
    )


def case_only_28():
    csv("28_case_only.csv", ["Part no.;Description;Length mm", "K-28a;Knob;10", "K-28A;Knob left;10", "k-28b;Cap;10"])
    case(
        "28_case_only.csv",
        "Numbers that differ in case only (one folder on Windows and macOS)",
        3,
        ["k-28b"],
        [(3, "Part no.", "differs from K-28a (row 2) in case only")],
        either=["first written, second refused", "both refused"],
        never=["two folders that are one on a case-insensitive disk", "different result on Linux and Windows"],
    )


def unicode_forms_29():
    csv("29_unicode_forms.csv", ["Teilenummer;Benennung;Flotte", "T\u00dcR-1;Tür;K1", "TU\u0308R-1;Tür;K1", "K-2903;Tu\u0308rknopf;K1", "K-29④;x;K1", "Ｋ-2905;x;K1", "K-29\u0662;x;K1"], "utf-8")
    case(
        "29_unicode_forms.csv",
        "Composed and decomposed, circled, full-width and Arabic digits",
        6,
        ["TÜR-1", "K-2903"],
        [(3, "Teilenummer", "the same as row 2 in another Unicode form"), (5, "Teilenummer", "④"), (6, "Teilenummer", "full-width letter"), (7, "Teilenummer", "digit U+0662")],
        either=["TÜR-1 refused because numbers are ASCII here (then row 3 too)"],
        never=["two folders", "int('٢') = 2"],
    )


def names_as_paths_30():
    csv(
        "30_names_as_paths.csv",
        [
            "Part no.;Description;Fleet",
            "K-3001;../../../outside;K1",
            "K-3002;Cover left/right;K1",
            "K-3003;CON;K1",
            "K-3004;NUL.stl;K1",
            "K-3005;Lid.;K1",
            "K-3006;...;K1",
            "K-3007;" + "Very long name " * 17 + ";K1",
            "K-3008;C:\\temp\\x;K1",
            "K-3009;🔧 wrench;K1",
            "K-3010;部品;K1",
            "K-3011;---;K1",
            "K-3012;~/x;K1",
            "K-3013;$(touch x) `id` %PATH%;K1",
            "K-3014;Straße;K1",
            "K-3015;Strasse;K1",
            "K-3016;" + "ø" * 250 + ";K1",
        ],
    )
    case(
        "30_names_as_paths.csv",
        "Names that are bad folder names",
        16,
        [f"K-30{i:02d}" for i in range(1, 17)],
        never=["anything written outside the parts folder", "a folder longer than 100 bytes (keep room for Windows' 260)", "a folder that ends in '.', '-' or a space", "an empty slug 'K-3010-' unsaid", "a name shortened inside part.yml"],
        note="the name itself is kept whole; only the folder's slug is tamed; K-3014/15 keep apart by number",
    )


def numbers_as_paths_31():
    csv(
        "31_numbers_as_paths.csv",
        ["Part no.;Description", "..;a", ".;b", "A/B;c", "A\\B;d", "CON;e", "com1;f", "nul.x;g", ".git;h", "-rf;i", "A:B;j", "A*?;k", "K-3112.;l", "K 3113;m", "#3114;n", "K-" + "9" * 300 + ";o", "%2e%2e;p", "K\\t3117;q", "model;r", "R-0031;s", "K-3120|;t", "<b>;u", "K-3122&x=1;v"],
    )
    case(
        "31_numbers_as_paths.csv",
        "Numbers that are bad folder names, links or command options",
        22,
        [],
        [(r, "Part no.", "not a number that can name a folder") for r in (2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12, 13, 16, 17, 18, 21, 22)],
        either=["rows 14, 15, 19, 20, 23: refused, or written and every link, anchor and QR code works"],
        never=["written outside", "number changed to make it fit (A/B → A-B)", "'R-0031' mistaken for a request"],
    )


def slug_collisions_32():
    csv("32_slug_collisions.csv", ["Part no.;Description", "K-32;Cap 1", "K-32-cap;1", "K-3203;Tür", "K-3204;Tur", "K-3205;Öse", "K-3206;Oese"])
    case("32_slug_collisions.csv", "number+slug of one = number+slug of another: K-32 + cap-1, K-32-cap + 1", 6, ["K-32", "K-32-cap", "K-3203", "K-3204", "K-3205", "K-3206"], either=["all six, in six folders", "row 3 refused: its folder would be row 2's"], never=["5 folders and 6 reported"])


STORIES = (
    spaces_24,
    invisible_25,
    homoglyphs_26,
    duplicates_27,
    case_only_28,
    unicode_forms_29,
    names_as_paths_30,
    numbers_as_paths_31,
    slug_collisions_32,
)
