"""Lists that are large, damaged or made to harm."""

import io
import random
import zipfile

from openpyxl.chart import BarChart, Reference

from tests.importing.lists.making import (
    DE,
    FILES,
    OLD_FORM,
    SHEET,
    book,
    case,
    core,
    csv,
    knob,
    raw,
    rewrite,
    save,
    still,
)


def thousand_columns_41():
    zipfile.ZipFile(io.BytesIO(knob()))
    cols = ["Part no.", "Description"] + [f"c{i}" for i in range(998)]
    csv("41_thousand_columns.csv", [";".join(cols), ";".join(["K-4101", "Knob"] + ["x"] * 998)])
    case("41_thousand_columns.csv", "1,000 columns", 1, ["K-4101"], never=["a proposed map of 998 lines of noise that hides the two that matter", "terminal flooded"])


def many_rows_42():
    rnd = random.Random(12)
    lines, rows = [";".join(DE)], [DE]
    names = ["Türknopf", "Kappe", "Lüfterlamelle", "Kabelschelle", "Handgriff", "Schutzkappe"]
    bad = set(range(100, 500, 125))
    for i in range(2, 402):
        row = [f"K-{i:05d}", f"{rnd.choice(names)} {i}", "K1", "401-412", "petg-fr", f"{rnd.randint(5, 900)},{rnd.randint(0, 9)}"]
        if i in bad:
            row[1] = ""
        lines.append(";".join(row))
        rows.append(row)
    csv("42_many_rows.csv", lines, "cp1252")
    wb, _ws = book(rows)
    save(wb, "42_many_rows.xlsx")
    refused = [(r, "Benennung", "empty") for r in sorted(bad) if r < 402]
    for f in ("42_many_rows.csv", "42_many_rows.xlsx"):
        case(f, "400 rows, every 125th without a name", 400, 400 - len(refused), refused, never=["more than 10 s for the dry run", "half a part folder after an interrupt (press Ctrl-C in the middle: each folder is whole or absent; a second run completes)", "sum not 400"])


def zip_bomb_sheet_43():
    src = zipfile.ZipFile(io.BytesIO(knob()))
    with zipfile.ZipFile(FILES / "43_zip_bomb_sheet.xlsx", "w", zipfile.ZIP_DEFLATED) as out:
        for n in src.namelist():
            if n != SHEET:
                out.writestr(still(n), core(src.read(n)))
                continue
            with out.open(still(SHEET), "w", force_zip64=True) as f:
                body = src.read(n)
                cut = body.index(b"</sheetData>")
                f.write(body[:cut])
                for _k in range(24):
                    f.write(b" " * (1 << 20))
                f.write(body[cut:])
    case("43_zip_bomb_sheet.xlsx", "A few kB that unpack to 24 MB", 0, [], either=["refused: unpacks to too much"], never=["more than 5 s or 300 MB before the refusal", "trusting the size that the zip's directory states"], heading=0)


def zip_bomb_one_cell_43():
    src = zipfile.ZipFile(io.BytesIO(knob()))
    with zipfile.ZipFile(FILES / "43_zip_bomb_one_cell.xlsx", "w", zipfile.ZIP_DEFLATED) as out:
        for n in src.namelist():
            out.writestr(still(n), core(src.read(n)) if n != SHEET else src.read(n).replace(b"<t>Knob</t>", b"<t>" + b"A" * (12 << 20) + b"</t>"))
    case("43_zip_bomb_one_cell.xlsx", "One cell of 12 million letters", 0, [], either=["refused"], never=["memory over 300 MB", "a part with that name"], heading=0)


def many_members_43():
    src = zipfile.ZipFile(io.BytesIO(knob()))
    with zipfile.ZipFile(FILES / "43_many_members.xlsx", "w") as out:
        for n in src.namelist():
            out.writestr(still(n), core(src.read(n)))
        for k in range(2500):
            out.writestr(still(f"xl/x/{k}.xml"), b"")
    case("43_many_members.xlsx", "2,500 empty members", 1, ["K-4301"], either=["refused: too many members", "read"], never=["slow"])


def external_link_44():
    data = knob()
    rewrite(
        "44_external_link.xlsx",
        data,
        {SHEET: lambda b: b.replace(b'<c r="F2" t="n"><v>10</v>', b'<c r="F2"><f>[1]Other!$A$1</f><v>10</v>')},
        {
            "xl/externalLinks/externalLink1.xml": b'<externalLink xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main"/>',
            "xl/externalLinks/_rels/externalLink1.xml.rels": b'<Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships"><Relationship Id="rId1" Type="http://schemas.openxmlformats.org/officeDocument/2006/relationships/externalLinkPath" Target="http://x.invalid/other.xlsx" TargetMode="External"/></Relationships>',
        },
    )
    case("44_external_link.xlsx", "A value that comes from another workbook over the network", 1, ["K-4301"], either=["cached value taken and said", "row 2, Length mm refused: comes from another file"], never=["any network access"])


def macros_named_xlsx_45():
    data = knob()
    rewrite("45_macros_named_xlsx.xlsx", data, {"[Content_Types].xml": lambda b: b.replace(b"spreadsheetml.sheet.main+xml", b"x").replace(b"application/vnd.openxmlformats-officedocument.x", b"application/vnd.ms-excel.sheet.macroEnabled.main+xml")}, {"xl/vbaProject.bin": b"\xd0\xcf\x11\xe0invented"})
    case("45_macros_named_xlsx.xlsx", "A macro workbook renamed to .xlsx", 1, ["K-4301"], either=["read, macros not touched, said", "refused: carries macros"], never=["traceback"])


def encrypted_46():
    raw("46_encrypted.xlsx", OLD_FORM + "EncryptionInfo".encode("utf-16-le") + b"\0" * 100 + "EncryptedPackage".encode("utf-16-le") + bytes(random.Random(1).randbytes(4096)))
    case("46_encrypted.xlsx", "Protected by a password (an OLE file named .xlsx)", 0, [], either=["refused: protected by a password; save without"], never=["'File is not a zip file' as the whole message", "asks for a password"], heading=0)


def empty_workbook_47():
    wb0, _ = book()
    save(wb0, "47_empty_workbook.xlsx")
    case("47_empty_workbook.xlsx", "A new workbook, nothing typed", 0, [], never=["traceback"], heading=0)


def chart_sheet_only_48():
    wb1, w1 = book([["a", 1], ["b", 2]])
    ch = BarChart()
    ch.add_data(Reference(w1, min_col=2, min_row=1, max_row=2))
    cs = wb1.create_chartsheet("Bild")
    cs.add_chart(ch)
    w1.sheet_state = "hidden"
    wb1.active = 1
    save(wb1, "48_chart_sheet_only.xlsx")
    case("48_chart_sheet_only.xlsx", "Only a chart is visible", 0, [], either=["refused: no sheet with rows"], never=["AttributeError: 'Chartsheet' has no …", "hidden helper rows imported as parts"], heading=0)


def old_xls_renamed_49():
    raw("49_old_xls_renamed.xlsx", OLD_FORM + "Workbook".encode("utf-16-le") + b"\x09\x08\x10\x00\x00\x06\x05\x00" + b"\0" * 2048)
    case("49_old_xls_renamed.xlsx", "An .xls from 2003 renamed", 0, [], either=["refused: the old .xls form; save as .xlsx or .csv"], heading=0, never=["traceback"])


def csv_named_50():
    csv("50_csv_named.xlsx", [";".join(DE), "K-5001;Knopf;K1;401;petg-fr;10"])
    case("50_csv_named.xlsx", "Text named .xlsx", 1, ["K-5001"], either=["refused: this is text; name it .csv", "read as csv and said"], never=["traceback"])


def xlsx_named_51():
    data = knob()
    rewrite("51_xlsx_named.csv", data)
    case("51_xlsx_named.csv", "A workbook named .csv", 1, ["K-4301"], either=["refused: this is a workbook; name it .xlsx", "read as workbook and said"], never=["a part named PK\\x03\\x04"])


def billion_laughs_52():
    data = knob()
    laughs = b'<?xml version="1.0"?><!DOCTYPE l [<!ENTITY a "ha"><!ENTITY b "&a;&a;&a;&a;&a;&a;&a;&a;&a;&a;">' + b"".join(b'<!ENTITY %c "%s">' % (99 + i, (b"&%c;" % (98 + i)) * 10) for i in range(9)) + b"]>"
    rewrite("52_billion_laughs.xlsx", data, {SHEET: lambda b: laughs + (b[b.index(b"<worksheet") :]).replace(b"<v>10</v>", b"<v>&k;</v>")})
    case("52_billion_laughs.xlsx", "Entities that multiply, in the sheet", 0, [], either=["refused: declares entities"], never=["more than 2 s or 100 MB more"], heading=0)


def outside_entity_53():
    data = knob()
    xxe = b'<?xml version="1.0"?><!DOCTYPE x [<!ENTITY e SYSTEM "file:///etc/hostname"><!ENTITY f SYSTEM "http://x.invalid/a">]>'
    rewrite("53_outside_entity.xlsx", data, {SHEET: lambda b: xxe + b[b.index(b"<worksheet") :].replace(b"<t>Knob</t>", b"<t>&e; &f;</t>")})
    case("53_outside_entity.xlsx", "An entity that reads a file of this machine", 0, [], either=["refused"], never=["any byte of another file in a part or message", "network"], heading=0)


def member_climbs_out_68():
    data = knob()
    rewrite("68_member_climbs_out.xlsx", data, None, {"../../climbed.txt": b"x", "/abs.txt": b"x"})
    case("68_member_climbs_out.xlsx", "Members named ../../climbed.txt", 1, ["K-4301"], either=["refused", "read"], never=["climbed.txt anywhere"])


def truncated_70():
    data = (FILES / "68_member_climbs_out.xlsx").read_bytes()
    rewrite("70_truncated.xlsx", data, drop=("../../climbed.txt", "/abs.txt"))
    data = (FILES / "70_truncated.xlsx").read_bytes()
    raw("70_truncated.xlsx", data[: len(data) * 2 // 3])
    case("70_truncated.xlsx", "Copied from a stick pulled too early", 0, [], either=["refused: damaged or cut off"], never=["BadZipFile traceback"], heading=0)


def flipped_byte_70():
    data = knob()
    broken = bytearray(data)
    broken[len(data) // 3] ^= 0xFF
    raw("70_flipped_byte.xlsx", bytes(broken))
    case("70_flipped_byte.xlsx", "One byte wrong", 1, [], either=["refused: damaged", "read, if the byte was in a part that is not needed"], never=["traceback (zlib.error, BadZipFile, ParseError)"])


STORIES = (
    thousand_columns_41,
    many_rows_42,
    zip_bomb_sheet_43,
    zip_bomb_one_cell_43,
    many_members_43,
    external_link_44,
    macros_named_xlsx_45,
    encrypted_46,
    empty_workbook_47,
    chart_sheet_only_48,
    old_xls_renamed_49,
    csv_named_50,
    xlsx_named_51,
    billion_laughs_52,
    outside_entity_53,
    member_climbs_out_68,
    truncated_70,
    flipped_byte_70,
)
