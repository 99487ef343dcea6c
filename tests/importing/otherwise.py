"""How the maps of the lists are mended, and where a list comes to something else than was expected first, with the reason."""

LEFT_OUT = "field: left out"
LETTER_DATE = (("heading: approved\n    field: left out", "heading: approved\n    field: letter date"),)


def column(heading, was, becomes):
    return (f"heading: {heading}\n    field: {was}", f"heading: {heading}\n    field: {becomes}")


# By file: `first` are words of the first command, `mended` what a person changes in the map.
MAPS = {
    "06_da_cp850.csv": {"first": ["--encoding", "cp850"]},
    "07_thousands_and_decimals.csv": {"mended": [('# decimal: ","', 'decimal: ","')]},
    "19_dates_ambiguous_column.csv": {"mended": [column("approved", "left out", "letter date"), ("# dates: day first", "dates: day first")]},
    "20_numbers_became_dates.csv": {"mended": [("# defaults:\n", "defaults: {fleet: K1}\n")]},
    "20_numbers_became_dates.xlsx": {"mended": [("# defaults:\n", "defaults: {fleet: K1}\n")]},
    "22_leading_zeros.xlsx": {"mended": [("# numbers: as shown", "numbers: as shown"), column("Wagen", "vehicles", "left out")]},
    "22_leading_zeros_lost.csv": {"mended": [column("Wagen", "vehicles", "left out")]},
    "54_same_heading_twice.csv": {"mended": [column("Nummer (A)", "TODO", "number  "), column("Nummer (C)", "TODO", "old numbers  ")]},
    "62_date_system_1904.xlsx": {"mended": [column("approved", "left out", "letter date")]},
    "62_text_dates_1904.csv": {"mended": [column("approved", "left out", "letter date")]},
    "63_safety_words.csv": {"mended": [("# words:\n", 'words: {Safety part: {"yes": safety, "no": none}}\n')]},
    "64_approval_columns.csv": {"mended": [("# words:\n", "words: {gültig bis: {unbefristet: open}}\n")]},
    "81_headings_broken_and_spelt_out.xlsx": {"mended": [("unit: TODO", "unit: mm  ")]},
}
TWICE = "both rows of a number are refused, so that no order decides"
WHOLE = "the file is refused whole, with the line"

# By file: numbers written, rows refused, and why that is one of the outcomes that the case allows, or a better one.
OTHERWISE = {
    "02_da_utf8_bom.csv": (["K-0201"], [3], "K1 has no vehicle B31: the case sets it under K1, and no vehicle is guessed"),
    "06_da_cp850.csv": (["K-0601", "K-0602"], [], "--encoding cp850 was said; without it the file is refused, see below"),
    "07_thousands_and_decimals.csv": (
        ["K-0701", "K-0704", "K-0705", "K-0708"],
        [3, 4, 7, 8, 10, 11, 12, 13, 14],
        "the map says that a comma stands before tenths; 1.234 could still be thousands",
    ),
    "08_units_in_cells.csv": (["K-0801"], [3, 4, 5, 6, 7, 8, 9, 10, 11], "another unit than the heading's is refused, as tolerances and signs are"),
    "09_unit_in_heading_fights.csv": (["K-0901", "K-0902"], [], "a part has no mass: both columns are left out and said"),
    "13_merged_cells.xlsx": (["K-1301", "K-1304"], [3, 4, 6], "what lies under a merged cell is refused"),
    "17_two_sheets.xlsx": (["K-1701"], [], "one sheet is read, the other is named"),
    "19_dates_all_ways.xlsx": (
        ["K-1901", "K-1903", "K-1913", "K-1915", "K-1917"],
        [3, 5, 6, 7, 8, 9, 10, 11, 12, 13, 15, 17, 19],
        "month names and short years are refused",
    ),
    "19_dates_ambiguous_column.csv": (["K-1951", "K-1952", "K-1954"], [4], "the map says day first"),
    "21_numbers_became_numbers.xlsx": (["1E5"], [2, 3, 4, 6, 7, 8, 9, 10, 11, 12], "plain numbers wait for numbers: as shown"),
    "22_leading_zeros.xlsx": (["401"], [2, 3], "0401 is read as it is shown, and then stands twice"),
    "22_leading_zeros_lost.csv": (["00401", "0401", "401"], [5, 6, 7], "an apostrophe and a formula are refused"),
    "24_spaces.csv": (["K-2402"], [2, 4, 5, 6, 7, 8], TWICE),
    "25_invisible.csv": (["K-2501"], [2, 3, 4, 5, 6, 8, 9], "what is not seen is refused, so row 7 stands alone"),
    "26_homoglyphs.csv": (["A-104", "A-1O4", "A-LO4"], [3, 6], "what looks alike in Latin letters is written with a warning"),
    "27_duplicates.csv": (["K-2703"], [2, 3, 4, 5], TWICE),
    "28_case_only.csv": (["K-28B"], [2, 3], TWICE + "; numbers are written in capital letters"),
    "29_unicode_forms.csv": (["K-2903"], [2, 3, 5, 6, 7], "numbers are ASCII here"),
    "30_names_as_paths.csv": (
        [f"K-30{n:02d}" for n in range(1, 16) if n != 7],
        [8, 17],
        "a name has at most 80 letters (records/base.py), and none is shortened",
    ),
    "31_numbers_as_paths.csv": (["MODEL"], [n for n in range(2, 24) if n != 19], "signs and R-0031 are refused; MODEL is a number like another"),
    "32_slug_collisions.csv": (["K-3203", "K-3204", "K-3205", "K-3206"], [2, 3], "both rows of one folder are refused"),
    "33_vehicle_lists.xlsx": (["K-3301", "K-3302", "K-3304"], [4, 6, 7, 8, 9, 10, 11, 12, 13, 14], "one fleet a row; empty pieces and words are refused"),
    "34_vehicle_words.csv": (["K-3406"], [2, 3, 4, 5, 6, 8, 9, 10, 11, 12, 13], "no word is a vehicle; an empty cell stays TODO"),
    "35_materials.csv": (["K-3501", "K-3502", "K-3508"], [4, 5, 6, 7, 8, 10, 11], "letters' case makes no difference and is said; an empty cell stays TODO"),
    "36_empty_required.csv": (["K-3603", "K-3604", "K-3606", "K-3608"], [2, 3, 6, 8], "a name that says nothing is written with a warning"),
    "38_injection.csv": (["K-3802", "K-3803", "K-3804", "K-3806"], [2, 6], "what begins with = is a formula without its result"),
    "39_unbalanced_quotes.csv": ([], [], WHOLE),
    "40_nul_bytes.csv": ([], [], WHOLE),
    "43_many_members.xlsx": ([], [], "too many members"),
    "50_csv_named.xlsx": ([], [], "this is text; name it .csv"),
    "51_xlsx_named.csv": ([], [], "this is a workbook; name it .xlsx"),
    "54_same_heading_twice.csv": (["K-5401", "K-5402"], [], "the map names columns by letter"),
    "62_text_dates_1904.csv": ([], [2, 3, 4, 5], "before 1990 nothing was printed; days are written with two digits"),
    "63_safety_words.csv": (["K-6301", "K-6302", "K-6303"], [5, 6, 7, 8, 9, 10, 11, 12], "an empty cell stays TODO, never none"),
    "64_approval_columns.csv": ([f"K-640{n}" for n in range(1, 9)], [], "written without any approval, the columns kept as a comment"),
    "66_markup.csv": ([f"K-66{n:02d}" for n in range(1, 11) if n != 7], [8], "the signs of &lt; part the cells of this very file, so the row has one too many"),
    "69_meaning_in_colour.xlsx": (["K-6902", "K-6903"], [2], "a struck-out row is refused, colours and remarks are said"),
    "72_with_meshes.csv": (["K-7201", "K-7202", "K-7203", "K-7204", "K-7207", "K-7209", "K-7210"], [6, 7, 9, 12], "both rows of one name are refused, as an empty mesh is"),
    "77_formats_that_change_meaning.xlsx": (["K-7702", "K-7703", "K-7704"], [2], "a part has no price: the column is left out"),
    "78_ditto_and_ranges.csv": (["K-7801", "K-7811-B"], [3, 4, 5, 6, 7, 8, 10], "K-7811-B is written as it stands"),
    "79_matrix_of_vehicles.xlsx": (["K-7901", "K-7902", "K-7903"], [], "columns of vehicles are left out, so the parts have none"),
    "81_headings_broken_and_spelt_out.xlsx": (["K-8101"], [3, 4], "Ø 12 x 300 is no size of three sides"),
}
