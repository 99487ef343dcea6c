"""Small files of invented depots' lists, each a story, with what should become of it; written anew by every test run.

Rows are counted as the spreadsheet shows them: the first line of a file is row 1.
"""

import io
import re
import zipfile
from functools import cache
from pathlib import Path

import openpyxl


class _Folder:
    """Where the files are written; each test run says it anew."""

    at = Path()

    def __truediv__(self, name):
        return self.at / name


FILES = _Folder()
CASES = []


def case(file, story, rows, written, refused=(), either=None, never=(), heading=1, note=None):
    entry = {"file": file, "story": story, "heading_row": heading, "rows": rows, "written": written, "refused": [dict(zip(("row", "column", "why", "mend"), r, strict=False)) for r in refused]}
    if either:
        entry["either"] = list(either)
    if never:
        entry["never"] = list(never)
    if note:
        entry["note"] = note
    CASES.append(entry)


def raw(name, data):
    (FILES / name).write_bytes(data)


def csv(name, lines, enc="utf-8", eol="\r\n"):
    raw(name, (eol.join(lines) + eol).encode(enc))


def book(rows=(), title="Liste"):
    wb = openpyxl.Workbook()
    ws = wb.active
    ws.title = title
    for r in rows:
        ws.append(list(r))
    return wb, ws


def save(wb, name):
    wb.properties.creator = "invented"
    buf = io.BytesIO()
    wb.save(buf)
    rewrite(name, buf.getvalue())


def core(body):
    """Document properties without the time of making; other members have no such text."""
    return re.sub(rb"\d{4}-\d\d-\d\dT[\d:.]+Z", b"2026-01-01T00:00:00Z", body)


def still(member):
    info = zipfile.ZipInfo(member, (2026, 1, 1, 0, 0, 0))
    info.compress_type = zipfile.ZIP_DEFLATED
    return info


def rewrite(name, data, change=None, add=None, drop=()):
    """Copy an xlsx with fixed times; change: {member: function(bytes)->bytes}; add: {member: bytes}."""
    src = zipfile.ZipFile(io.BytesIO(data))
    with zipfile.ZipFile(FILES / name, "w", zipfile.ZIP_DEFLATED) as out:
        for info in src.infolist():
            if info.filename in drop:
                continue
            body = src.read(info)
            if info.filename == "docProps/core.xml":
                body = core(body)
            if change and info.filename in change:
                before, body = body, change[info.filename](body)
                if before == body:
                    raise SystemExit(f"{name}: the edit of {info.filename} changed nothing")
            out.writestr(zipfile.ZipInfo(info.filename, (2026, 1, 1, 0, 0, 0)), body, zipfile.ZIP_DEFLATED)
        for member, body in (add or {}).items():
            out.writestr(zipfile.ZipInfo(member, (2026, 1, 1, 0, 0, 0)), body, zipfile.ZIP_DEFLATED)


def bytes_of(wb):
    buf = io.BytesIO()
    wb.save(buf)
    return buf.getvalue()


DE = ["Teilenummer", "Benennung", "Flotte", "Wagen", "Werkstoff", "Länge mm"]
DA = ["Varenr.", "Betegnelse", "Litra", "Vogne", "Materiale", "Længde mm"]
EN = ["Part no.", "Description", "Fleet", "Vehicles", "Material", "Length mm"]
SHEET = "xl/worksheets/sheet1.xml"
MOJI = "mojibake (Ã¼, Ã¦, �, ” for ö) in any written file or page"
OLD_FORM = b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1" + b"\0" * 504


@cache
def knob():
    """A spreadsheet of one part, to be spoilt."""
    return bytes_of(book([EN, ["K-4301", "Knob", "K1", "401", "petg-fr", 10]])[0])
