"""The shapes as STEP files and what the exact kernel says of them: `python -m tests.geometry.features.originals.make_originals [NAME ...]`.

Writes originals.zip and truth.json beside itself; with names it only says what it would write. By hand only: the kernel takes a
minute. The same shapes give the same bytes.
"""

from __future__ import annotations

import json
import sys
import tempfile
import zipfile
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

from build123d import Unit, export_step

from tests.geometry.features.originals.shapes import ORIGINALS, Original
from tests.models.rounds import round_faces

HERE = Path(__file__).parent
_DAY = datetime(2026, 11, 27, tzinfo=UTC)
_INCH = 25.4


def written(name: str, one: Original) -> bytes:
    """The STEP file."""
    body = one.body.scale(1 / _INCH) if one.is_in_inches else one.body
    body.label = name
    with tempfile.TemporaryDirectory() as folder:
        file = Path(folder) / f"{name}.step"
        export_step(body, file, unit=Unit.IN if one.is_in_inches else Unit.MM, timestamp=_DAY)
        return file.read_bytes().replace(folder.encode(), b"")


def main(names: list[str]) -> int:
    files: dict[str, bytes] = {}
    truth: dict[str, dict[str, Any]] = {}
    for name, build in ORIGINALS.items():
        if names and name not in names:
            continue
        one = build()
        files[name] = written(name, one)
        truth[name] = {"rounds": round_faces(one.rounds_of or one.body), "said": one.said}
        print(f"{name}: {len(files[name]) // 1000} kB, {len(truth[name]['rounds'])} round faces, {len(one.said)} said", flush=True)
    if names:
        return 0
    with zipfile.ZipFile(HERE / "originals.zip", "w", zipfile.ZIP_LZMA) as packed:
        for name, content in files.items():
            packed.writestr(zipfile.ZipInfo(f"{name}.step"), content, zipfile.ZIP_LZMA)
    rows = [f"{json.dumps(name)}: {json.dumps(told)}" for name, told in truth.items()]
    (HERE / "truth.json").write_text("{\n" + ",\n".join(rows) + "\n}\n")
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
