"""Poison in the withdrawn part, among parts, requests and materials, and files that nobody may read."""

import base64
import json
import os
import subprocess
from pathlib import Path

import pytest

from tests.attacks.poisoned_depot import (
    DAY,
    LIMIT_S,
    ROOT,
    another_part,
    depot_in,
    everything_in,
    said,
    spares,
)
from tests.attacks.poisons import LAUGHS, LINKS, MARKDOWN, NAMES, PICTURES, SECRET, picture, png_bomb
from tests.fixtures.commands import POWERLESS


def built(depot, tmp_path, store, **more):
    at = ["--catalogue", depot, "--store", store, "--on", DAY]
    try:
        ran = spares("build", *at, "--site", tmp_path / "site", "--config", ROOT / "mkdocs.yml", **more)
        check = spares("check", *at, "--format", "json", **more)
    except subprocess.TimeoutExpired:
        pytest.fail(f"it did not end within {LIMIT_S} s")
    assert ran.returncode == 0, said(ran)
    assert check.returncode in (0, 1), said(check)
    page = (tmp_path / "site/parts/EX-0001.html").read_text(encoding="utf-8")
    assert "Do not fit" in page
    problems = json.loads(check.stdout)["problems"]
    return page, " ".join(problem["file"] + " " + problem["says"] for problem in problems)


def test_a_withdrawn_part_says_so_whatever_lies_in_its_own_folder(tmp_path, warm_store):
    depot = depot_in(tmp_path)
    part = depot / "parts/EX-0001-lid-knob"
    (part / "photos").mkdir()
    for slug in ("latin-md", "no-template", "bad-url", "jinja", "index-md"):
        MARKDOWN[slug][1](part)
    for _, put in (
        PICTURES["bomb"],
        PICTURES["cut-png"],
        NAMES["latin-name"],
        LINKS["loop"],
        LINKS["model-loop"],
    ):
        put(part)
    (part / "fitting.md").write_bytes(b"---\ntemplate: nowhere.html\n---\n\xff\0")
    page, told = built(depot, tmp_path, warm_store)
    assert "Withdrawn on 20 Nov 2026: it cracks" in page
    for name in ("named-bomb.png", "named-cut.png", "named-loop.pdf", "model.stl", "fitting.md"):
        assert name in told


def test_nothing_that_lies_among_the_parts_stops_the_build(tmp_path, warm_store):
    depot = depot_in(tmp_path)
    parts = depot / "parts"
    (parts / "named-file.md").write_bytes(b"---\ntemplate: nowhere.html\n---\n\xff")
    os.mkfifo(parts / "named-pipe")
    (parts / "named-loop").symlink_to("named-loop")
    (parts / "named-broken").symlink_to("nowhere")
    (parts / "named-up").symlink_to("..")
    (parts / "named-twin").symlink_to("EX-0002-brake-lever")
    (parts / "named-empty").mkdir()
    for name in (b"named-\xe9\xff", b"named\nlines", b"named-" + b"l" * 249, b" ", b"..."):
        Path(parts, os.fsdecode(name)).mkdir()
    _, told = built(depot, tmp_path, warm_store)
    for name in (
        "named-file.md",
        "named-pipe",
        "named-loop",
        "named-broken",
        "named-up",
        "named-empty",
        "named-lll",
    ):
        assert name in told, name


def test_nothing_that_lies_among_requests_and_materials_stops_the_build(tmp_path, warm_store):
    depot = depot_in(tmp_path)
    requests, photos = depot / "requests", depot / "requests/photos"
    plain = (requests / "coat-hook.yml").read_text(encoding="utf-8")
    photos.mkdir()
    pictures = {"bomb": png_bomb(200000, 200000), "cut": picture("PNG")[:400], "empty": b"", "latin": b"\xff"}
    for at, (name, content) in enumerate(pictures.items()):
        (photos / f"named-{name}.png").write_bytes(content)
        (requests / f"R-{at + 1:04}.yml").write_text(
            f"{plain}photo: photos/named-{name}.png\n", encoding="utf-8"
        )
    packed = base64.b64encode(png_bomb(200000, 200000)).decode()
    (requests / "R-0010.yml").write_text(f"{plain}photo_data: {packed}\n", encoding="utf-8")
    (requests / "R-0011.yml").write_text(f"{plain}photo: ../../secret.png\n", encoding="utf-8")
    (tmp_path / "secret.png").write_bytes(picture("PNG") + SECRET)
    (photos / "named-out.png").symlink_to("../../../secret.png")
    (requests / "R-0012.yml").write_text(f"{plain}photo: photos/named-out.png\n", encoding="utf-8")
    os.mkfifo(photos / "named-pipe.png")
    (requests / "R-0013.yml").write_text(f"{plain}photo: photos/named-pipe.png\n", encoding="utf-8")
    os.mkfifo(requests / "R-0014.yml")
    (requests / "R-0015.yml").mkdir()
    (requests / "R-0016.yml").symlink_to("R-0016.yml")
    (requests / "R-0017.yml").write_bytes(LAUGHS)
    Path(requests, os.fsdecode(b"R-00\xe9.yml")).write_text(plain, encoding="utf-8")
    for name in ("named.md", "index.md"):
        (photos / name).write_bytes(b"---\ntemplate: nowhere.html\n---\n\xff")
        (depot / "materials/documents" / name).write_bytes(b"---\ntemplate: nowhere.html\n---\n\xff")
    os.mkfifo(depot / "materials/documents/named-pipe.txt")
    (depot / "materials/documents/named-out.txt").symlink_to("../../../secret.png")
    _, told = built(depot, tmp_path, warm_store)
    wanted = [f"named-{name}.png" for name in (*pictures, "out", "pipe")] + [
        f"R-00{at}.yml" for at in range(10, 18)
    ]
    assert not [name for name in wanted if name not in told]
    assert not [content[:60] for content in everything_in(tmp_path / "site") if SECRET in content]


def test_files_that_nobody_may_read_are_named_and_stop_nothing(warm_store, tmp_path):
    """Holds already."""
    depot = depot_in(tmp_path)
    closed = []
    for at, name in enumerate(
        [
            "documents/named.md",
            "documents",
            "photos/named.png",
            "photos",
            "fitting.md",
            "part.yml",
            "approval.yml",
            "model.stl",
            ".",
        ]
    ):
        part = another_part(depot, f"PX-{at:04}", "closed")
        if "named" in name:
            (part / name).write_bytes(picture("PNG"))
        closed.append((part / name, f"{part.name}/{name}".removesuffix("/.")))
    try:
        for file, _ in closed:
            file.chmod(0)
        _, told = built(depot, tmp_path, warm_store, before=POWERLESS)
        assert not [name for _, name in closed if name not in told]
    finally:
        for file, _ in closed:
            file.chmod(0o700)
