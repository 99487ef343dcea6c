"""The same list again, a folder of models, and how people really fill in lists."""

import contextlib

from tests.importing.lists.making import EN, FILES, book, case, csv, raw, save


def repeat_v1_71():
    csv("71_repeat_v1.csv", ["Part no.;Description;Length mm", "K-7101;Knob;10", "K-7102;Cap;20", "K-7103;Plug;30"])
    csv("71_repeat_v2.csv", ["Part no.;Description;Length mm", "K-7102;Cap;20", "K-7101;Knob, grey;11", "K-7104;Strip;40"])
    case(
        "71_repeat_v1.csv",
        "Import once, then again: nothing changes, not even file times; 3 rows 'already here'",
        3,
        ["K-7101", "K-7102", "K-7103"],
        never=["'3 refused' or '3 written' the second time without 'already here'", "after a hand edit of a written part.yml the third run overwrites it"],
        note="rows in = written + already here + refused",
    )


def repeat_v2_71():
    case(
        "71_repeat_v2.csv",
        "Later list: order changed, one word changed, one row gone, one new (run after v1)",
        3,
        ["K-7104"],
        [(3, "Description", "K-7101 is here with other values", "change part.yml by hand")],
        never=["K-7101 overwritten", "K-7103 deleted", "an approved part's revision changed by an import"],
    )


def with_meshes_72():
    m = FILES / "72_meshes"
    m.mkdir(exist_ok=True)
    tri = "solid x\nfacet normal 0 0 1\nouter loop\nvertex 0 0 0\nvertex 10 0 0\nvertex 0 10 0\nendloop\nendfacet\nendsolid x\n"
    for n in ("K-7201.stl", "k-7202.STL", "K-7203 (1).stl", "K-7203.stl", "K-72040.stl", "Türknopf.stl", "K-7206.step", "K-7206.stl", "K-7207.pdf", "K-7208.stl", "K-7210_rev B.stl", "desktop.ini", ".DS_Store"):
        (m / n).write_text("" if n.startswith("K-7208") else tri, encoding="utf-8")
    csv("72_with_meshes.csv", ["Part no.;Description", "K-7201;Knob", "K-7202;Cap", "K-7203;Plug", "K-7204;Strip", "K-7205;Türknopf", "K-7206;Two forms", "K-7207;Drawing only", "K-7208;Empty mesh", "K-7209;Nothing there", "K-7210;Revision in the name", "K-7211;Türknopf"])
    case(
        "72_with_meshes.csv",
        "Meshes from a folder by number or name (folder 72_meshes)",
        11,
        ["K-7201", "K-7204", "K-7207", "K-7209"],
        [(12, "Description", "Türknopf.stl would belong to K-7205 and K-7211")],
        either=[
            "K-7202: matched without regard to case and said, or no mesh",
            "K-7203: K-7203.stl taken and '(1)' named as left over, or refused as two",
            "K-7206: STEP or mesh chosen by a stated rule, or refused",
            "K-7208: refused (empty mesh) or written without mesh and said",
            "K-7210: no mesh (revision unclear) or asked",
            "K-7209: the link leads out of the folder: no mesh and said, or refused",
        ],
        never=["K-7204 gets K-72040.stl", "one mesh given to two parts", "left-over files unsaid", "a mesh moved instead of copied"],
    )
    with contextlib.suppress(OSError):
        (m / "K-7209.stl").symlink_to("../../expect.yml")


def ditto_and_ranges_78():
    csv(
        "78_ditto_and_ranges.csv",
        [
            "Teilenummer;Benennung;Flotte;Wagen;Werkstoff;Stück",
            "K-7801;Knopf;K1;401-412;petg-fr;2",
            "K-7802;Kappe;\u2033;\u2033;dto.;2",
            'K-7803;Stab;s. o.;siehe oben;"""";4',
            "K-7804 – K-7806;Satz Ringe;K1;401;petg-fr;3",
            "K-7807 L/R;Schelle links/rechts;K1;401;petg-fr;1+1",
            "K-7808 (alt: 77-12);Griff;K1;401;petg-fr;2 (1 defekt)",
            "K-7809, K-7810;zwei in einer Zeile;K1;401;petg-fr;1",
            "K-7811-B;Deckel Rev. B;K1;401;petg-fr;1",
            "wie K-7801;Knopf rot;K1;402;petg-fr;1",
        ],
    )
    case(
        "78_ditto_and_ranges.csv",
        "Ditto marks, a range of numbers, left and right in one row, the old number in brackets",
        9,
        ["K-7801"],
        [(3, "Flotte", "a ditto mark", "write it out"), (4, "Flotte", "'s. o.'"), (5, "Teilenummer", "a range of numbers"), (6, "Teilenummer", "two parts in one row"), (7, "Teilenummer", "more than a number"), (8, "Wagen/Stück", "2 (1 defekt)"), (9, "Teilenummer", "two numbers")],
        either=["rows 3, 4: ditto read from above and said, or refused", "row 8 in the list above is line 'K-7808': one refusal per row may name either column", "row 9 'K-7811-B': written as it stands; revision not split off silently; row 10: refused"],
        never=["a fleet called '″' or 'dto.'", "left and right under one number", "three parts made of one row: rows in would not be written + refused"],
    )


def matrix_of_vehicles_79():
    wb, _ws = book([["Teilenummer", "Benennung", "401", "402", 403, "B31"], ["K-7901", "Knopf", "x", None, "X", "(x)"], ["K-7902", "Kappe", 1, 2, 0, "-"], ["K-7903", "Stab", "\u2713", "nein", "?", None]])
    save(wb, "79_matrix_of_vehicles.xlsx")
    case(
        "79_matrix_of_vehicles.xlsx",
        "One column a vehicle, crosses where it fits",
        3,
        [],
        either=["map can't say that: proposal leaves 401, 402, 403, B31 as questions; parts written with no vehicle", "map says it: K-7901 fits 401 and 403; '(x)' and '?' refused; 1/2/0 are counts: refused or read as pieces; heading 403 is a number"],
        never=["'?' or '(x)' = fits", "'0' or '-' = fits", "column 403 taken for a length"],
    )


def transposed_80():
    wb, _ws = book([["Teilenummer", "K-8001", "K-8002"], ["Benennung", "Knopf", "Kappe"], ["Länge mm", 10, 20]])
    save(wb, "80_transposed.xlsx")
    case("80_transposed.xlsx", "Parts stand in columns", 2, [], either=["refused: no heading row found / the first column looks like headings"], never=["parts called 'Benennung' and 'Länge mm'"])


def headings_broken_and_spelt_out_81():
    wb, _ws = book([["Teile-\nnummer", "Benen\u00adnung", "Laenge\n(mm)", "Maße L x B x H", "Stueck / Jahr"], ["K-8101", "Knopf", 49.5, "49,5x43x12", "12"], ["K-8102", "Kappe", 50, "49,5 × 43 × 12 mm", "ca. 12"], ["K-8103", "Stab", None, "Ø 12 x 300", "10-20"]])
    save(wb, "81_headings_broken_and_spelt_out.xlsx")
    case(
        "81_headings_broken_and_spelt_out.xlsx",
        "Headings with breaks and soft hyphens, ae for ä, three sizes in a cell",
        3,
        ["K-8101"],
        [(3, "Laenge\n(mm)", "50 and 49.5 in the next column disagree")],
        either=["sizes in one cell not taken and said; then row 3 and 4 written", "row 4: Ø 12 x 300 refused or taken as two sizes"],
        never=["heading not recognised because of a break, without a word", "a proposed map that YAML can't read back because of the break"],
    )


def protected_sheet_82():
    wb, ws = book([EN, ["K-8201", "Knob", "K1", "401", "petg-fr", 10]])
    ws.protection.sheet = True
    ws.protection.password = "x"
    wb.security.lockStructure = True
    save(wb, "82_protected_sheet.xlsx")
    case("82_protected_sheet.xlsx", "Sheet protection (not encryption)", 1, ["K-8201"], never=["refused as 'password'", "protection removed from the list"])


def pipe_separated_83():
    csv("83_pipe_separated.txt", ["|".join(EN), "K-8301|Knob|K1|401|petg-fr|10"])
    case("83_pipe_separated.txt", "Separated by |, named .txt", 1, ["K-8301"], either=["read", "refused: .xlsx or .csv"], never=["one column"])


def owner_file_list_84():
    raw("84_owner_file~$list.xlsx", b"\x05depot" + b" " * 159)
    case("84_owner_file~$list.xlsx", "The lock file beside an open list", 0, [], either=["refused, says that the list is open elsewhere"], never=["traceback"], heading=0)


STORIES = (
    repeat_v1_71,
    repeat_v2_71,
    with_meshes_72,
    ditto_and_ranges_78,
    matrix_of_vehicles_79,
    transposed_80,
    headings_broken_and_spelt_out_81,
    protected_sheet_82,
    pipe_separated_83,
    owner_file_list_84,
)
