"""Cells that a spreadsheet works out."""

import re

from tests.importing.lists.making import EN, SHEET, book, bytes_of, case, rewrite, save


def formulas_without_values_16():
    rows = [EN, ["K-1601", "Knob", "K1", "401", "petg-fr", "=10*2"], ["K-1602", '=CONCATENATE("Cap ","left")', "K1", "402", "petg-fr", "=F2+1"], ['="K-"&1603', "Plug", "K1", "403", "petg-fr", 5]]
    wb, _ = book(rows)
    data = bytes_of(wb)
    save(wb, "16_formulas_without_values.xlsx")
    case(
        "16_formulas_without_values.xlsx",
        "Written by a program, never calculated",
        3,
        [],
        [(2, "Length mm", "a formula without a value", "open and save the list once"), (3, "Description", "same"), (3, "Length mm", "same"), (4, "Part no.", "same")],
        never=["'=10*2' as text in a part", "None written as 'None'", "0"],
    )

    def cached(b):
        b = b.replace(b"<f>10*2</f><v></v>", b"<f>10*2</f><v>20</v>").replace(b"<f>10*2</f><v />", b"<f>10*2</f><v>20</v>").replace(b"<f>F2+1</f><v></v>", b"<f>F2+1</f><v>21</v>").replace(b"<f>F2+1</f><v />", b"<f>F2+1</f><v>21</v>")
        b = re.sub(rb'<c r="B3"[^>]*><f>(.*?)</f><v ?/?>(</v>)?</c>', rb'<c r="B3" t="str"><f>\1</f><v>Cap left</v></c>', b)
        return re.sub(rb'<c r="A4"[^>]*><f>(.*?)</f><v ?/?>(</v>)?</c>', rb'<c r="A4" t="str"><f>\1</f><v>K-1603</v></c>', b)

    rewrite("16_formulas_with_values.xlsx", data, {SHEET: cached})
    case("16_formulas_with_values.xlsx", "The same, calculated", 3, ["K-1601", "K-1602", "K-1603"], either=["values taken, dry run says 'from a formula'", "a formula in the number column refused (numbers must not be computed), others taken"], never=["formula text written"])
    wb, _ws = book([EN] + [[f"K-18{i:02d}", "x", "K1", "401", "petg-fr", 1] for i in range(1, 5)])
    data = bytes_of(wb)

    def err(b):
        for r, e in ((2, b"#N/A"), (3, b"#REF!"), (4, b"#DIV/0!")):
            b = re.sub(rb'<c r="F%d"[^>]*>.*?</c>' % r, b'<c r="F%d" t="e"><v>%s</v></c>' % (r, e), b)
        return re.sub(rb'<c r="A5"[^>]*>.*?</c>', b'<c r="A5" t="e"><v>#NAME?</v></c>', b)

    rewrite("18_formula_errors.xlsx", data, {SHEET: err})
    case("18_formula_errors.xlsx", "#N/A and friends in length and number", 4, [], [(2, "Length mm", "#N/A"), (3, "Length mm", "#REF!"), (4, "Length mm", "#DIV/0!"), (5, "Part no.", "#NAME?")], never=["a part with the number '#NAME?'"])


STORIES = (formulas_without_values_16,)
