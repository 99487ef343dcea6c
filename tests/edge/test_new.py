"""`spares new`: a folder that `check` accepts but for what only a person knows."""

import json
import re
import shutil

import pytest

from generator.edge.cli import main
from generator.edge.commands import new
from generator.edge.refusals import Ending
from generator.writing.new_part import folder_name
from tests.edge.conftest import bytes_of, names_in
from tests.fixtures.shared import made_once
from tests.geometry.solids import box
from tests.models.writing import stl

KNOWN = ("--fleet", "A1", "--place", "cab", "--per-vehicle", "2", "--material", "petg", "--by", "specialist")


def export(depot):
    knob = (depot / "catalogue/parts/EX-0001-lid-knob/model.stl").read_text("ascii")
    file = depot / "Export.STL"
    file.write_text(re.sub(r"(vertex \S+ \S+) (\S+)", lambda it: f"{it[1]} {2 * float(it[2])}", knob), "ascii")
    return file


@pytest.fixture
def mesh(depot):
    """A model of its own, lying somewhere else under another name: the knob's, twice as high."""
    return export(depot)


@pytest.fixture
def known_mesh(depot, mesh, tmp_path_factory, tiny_store):
    """The same, and the store knows it already, with and without its material: for who asks what is made of its name."""

    def fill(store):
        shutil.copytree(tiny_store, store)
        where = store.with_name("new-depot")
        shutil.copytree(depot, where)
        told = ("--catalogue", where / "catalogue", "--store", store)
        assert main([str(each) for each in ("new", "EX-0100", "Cap", "--mesh", export(where), *KNOWN, *told)]) == 0
        assert main([str(each) for each in ("check", *told)]) == 1  # it is not filled in yet
        shutil.rmtree(store / "memory")

    shutil.copytree(made_once(tmp_path_factory, "store-of-new", fill), depot / ".store", dirs_exist_ok=True)
    return mesh


def problems(spares):
    return json.loads(spares("check", "--format", "json")[1])["problems"]


def filled_in(folder):
    """What a person would do: put something true in place of every TODO, and write the fitting notes."""
    answers = {
        "purpose": "Covers the end.",
        "fleet": "A1",
        "place": "cab",
        "per_vehicle": "2",
        "safety_role": "none",
        "route": "customer",
        "material": "petg",
        "makers": "[bench]",
        "orientation": "flat",
        "by": "specialist",
    }
    for name in ("part.yml", "approval.yml"):
        lines = (folder / name).read_text(encoding="utf-8").splitlines()
        for i, line in enumerate(lines):
            key = line.strip(" -").partition(":")[0]
            if "TODO" in line and not line.startswith("#"):
                lines[i] = line.partition("TODO")[0] + answers.pop(key)
        (folder / name).write_text("\n".join(lines) + "\n", encoding="utf-8")
    sections = "".join(
        f"## {each}\n\nas usual\n\n" for each in ("Tools", "Steps", "Cautions", "Check after fitting")
    )
    (folder / "fitting.md").write_text(sections)
    return answers


def test_new_then_check_names_exactly_what_is_left(depot, mesh, spares):
    code, out, err = spares("new", "EX-0100", "Armrest end cap", "--mesh", mesh)
    assert (code, err) == (0, "")
    folder = depot / "catalogue/parts/EX-0100-armrest-end-cap"
    assert names_in(folder) == ["approval.yml", "fitting.md", "model.stl", "part.yml"]
    assert (folder / "model.stl").read_bytes() == (depot / "Export.STL").read_bytes()

    found = problems(spares)
    lines = {
        name: (folder / name).read_text(encoding="utf-8").splitlines()
        for name in ("part.yml", "approval.yml", "fitting.md")
    }
    for one in (one for one in found if one["code"] == "REC04"):
        line = lines[one["file"].rpartition("/")[2]][one["line"] - 1]
        assert line[one["column"] - 1 :].startswith("TODO")
        assert f"{one['file']}:{one['line']}:{one['column']}" in out
    marked = sum("TODO" in line and not line.startswith("#") for each in lines.values() for line in each)
    assert sorted(one["code"] for one in found) == ["FIT02"] + ["REC04"] * marked
    assert marked == 10

    assert filled_in(folder) == {}
    assert problems(spares) == []
    assert spares("build", "--strict")[0] == 0


def test_what_is_said_is_filled_in(depot, known_mesh, spares):
    spares("new", "EX-0100", "Armrest end cap", "--mesh", known_mesh, *KNOWN)
    text = (depot / "catalogue/parts/EX-0100-armrest-end-cap/part.yml").read_text(encoding="utf-8")
    assert "makers: [bench]" in text
    assert sorted(one["says"].split()[0] for one in problems(spares) if one["code"] == "REC04") == [
        "purpose",
        "route",
        "safety_role",
        "settings.orientation",
    ]


@pytest.mark.parametrize(
    ("name", "slug"),
    [
        ("Window-latch knob", "EX-9-window-latch-knob"),
        ("Türgriff (rechts)", "EX-9-turgriff-rechts"),
        ("../../etc", "EX-9-etc"),
        ("ידית", "EX-9"),
        ("😀", "EX-9"),
        ('a | "b" <script>: #c', "EX-9-a-b-script-c"),
    ],
)
def test_any_name_makes_a_plain_folder_and_comes_back_whole(depot, known_mesh, spares, name, slug):
    assert folder_name("EX-9", name) == slug
    assert spares("new", "EX-9", name, "--mesh", known_mesh)[0] == 0
    filled_in(depot / "catalogue/parts" / slug)
    assert problems(spares) == []
    assert name in spares("explain", "EX-9")[1]


def test_a_taken_number_is_refused_and_nothing_written(depot, mesh, spares):
    before = bytes_of(depot / "catalogue")
    for number in ("EX-0001", "EX-0003"):
        code, _, err = spares("new", number, "Another", "--mesh", mesh)
        assert code == 1
        assert err.startswith(f"spares: {number} is taken by catalogue/parts/{number}-")
    assert bytes_of(depot / "catalogue") == before


def test_a_folder_in_the_way_is_never_overwritten(depot, mesh, spares):
    (depot / "catalogue/parts/EX-0100-cap").symlink_to(depot / "nowhere")
    code, _, err = spares("new", "EX-0100", "Cap", "--mesh", mesh)
    assert (code, err.splitlines()[0]) == (1, "spares: catalogue/parts/EX-0100-cap is there already")


@pytest.mark.parametrize(
    ("arguments", "says"),
    [
        (("ex 1", "Cap"), "spares: the number 'ex 1' cannot be used"),
        (("EX-0100", " "), "spares: the name ' ' cannot be used"),
        (("EX-0100", "a\nb"), "spares: the name 'a"),
        (("EX-0100", "Cap", "--fleet", "A2"), "spares: there is no fleet 'A2'\n  mend: use one of: A1, B2"),
        (("EX-0100", "Cap", "--fleet", "A1", "--place", "roof"), "spares: there is no place 'roof'"),
        (("EX-0100", "Cap", "--place", "cab"), "spares: --place needs --fleet"),
        (
            ("EX-0100", "Cap", "--material", "petgg"),
            "spares: there is no material 'petgg'\n  mend: did you mean petg?",
        ),
        (("EX-0100", "Cap", "--by", "boss"), "spares: there is no role 'boss'"),
        (("EX-0100", "Cap", "--per-vehicle", "0"), "is no whole number from 1 to 10000"),
    ],
    ids=lambda each: " ".join(each) if isinstance(each, tuple) else "",
)
def test_misuse_writes_nothing(depot, mesh, spares, arguments, says):
    before = bytes_of(depot / "catalogue")
    code, _, err = spares("new", *arguments, "--mesh", mesh)
    assert code == Ending.MISUSE
    assert says in err
    assert bytes_of(depot / "catalogue") == before


@pytest.mark.parametrize(
    ("name", "content", "says"),
    [
        ("gone.stl", None, "cannot be read"),
        ("empty.stl", b"", ""),
        ("text.stl", b"this is a letter\n", ""),
        ("cut.stl", b"\0" * 80 + (5).to_bytes(4, "little") + b"\0" * 30, ""),
        ("drawing.pdf", b"%PDF-1.7", "is no model of a kind that is read here"),
    ],
)
def test_a_mesh_that_cannot_be_used_writes_nothing(depot, spares, name, content, says):
    if content is not None:
        (depot / name).write_bytes(content)
    before = bytes_of(depot / "catalogue")
    code, _, err = spares("new", "EX-0100", "Cap", "--mesh", name)
    assert code in (1, Ending.MISUSE)
    assert err.startswith(f"spares: {name}")
    assert "\n  mend: " in err
    assert says in err
    assert bytes_of(depot / "catalogue") == before


def test_a_disk_that_fails_leaves_no_half_folder(depot, mesh, spares, monkeypatch):
    before = bytes_of(depot / "catalogue")
    write_bytes = new.Path.write_bytes

    def full(path, content):
        if path.name == "fitting.md":
            raise OSError(28, "told by the test")
        return write_bytes(path, content)

    monkeypatch.setattr(new.Path, "write_bytes", full)
    code, _, err = spares("new", "EX-0100", "Cap", "--mesh", mesh)
    assert (code, err.splitlines()[0]) == (
        1,
        "spares: writing catalogue/parts/EX-0100-cap failed: the disk is full",
    )
    assert bytes_of(depot / "catalogue") == before
    assert not [name for name in names_in(depot / "catalogue/parts") if "0100" in name]


def holed_block():
    """60 × 40 × 12 mm, four holes of 6 and one of 10 mm through, and a void of 8 mm across that is closed all round."""
    from manifold3d import Manifold

    block = Manifold.cube((60, 40, 12))
    for x, y, across in ((10, 10, 6), (50, 10, 6), (10, 30, 6), (50, 30, 6), (30, 20, 10)):
        block -= Manifold.cylinder(14, across / 2, across / 2, 64).translate((x, y, -1))
    block -= Manifold.cylinder(4, 4, 4, 64).translate((20, 20, 4))
    mesh = block.to_mesh()
    return stl(mesh.vert_properties[:, :3], mesh.tri_verts)


def uncommented(text):
    """What a person does who keeps all that is proposed: out go the signs before checks and settings."""
    kept = re.sub(r"^# (checks:$|  - name|    (nominal_mm|plus_mm|minus_mm|feature):)", r"\1", text, flags=re.MULTILINE)
    return re.sub(r"^  # (up|wall_mm|infill_percent):", r"  \1:", kept, flags=re.MULTILINE)


def test_all_that_the_model_proposes_passes_check(depot, spares):
    """A block with four equal holes, one larger, and a void that nobody reaches; the depot's own general tolerance."""
    record = depot / "catalogue/depot.yml"
    record.write_text(record.read_text("utf-8") + "drawing: {general_tolerance: c}\n", encoding="utf-8")
    mesh = depot / "block.stl"
    mesh.write_bytes(holed_block())
    code, out, _ = spares("new", "EX-0100", "Block", "--mesh", mesh, *KNOWN)
    assert code == 0
    assert "warning PRINT06: has a closed hollow of about 8 × 8 × 4 mm" in " ".join(out.split())
    folder = depot / "catalogue/parts/EX-0100-block"
    text = (folder / "part.yml").read_text("utf-8")
    assert "with the tolerance of ISO 2768-1 c" in text
    assert "#   - name: Hole 6   # 4 on the model\n#     nominal_mm: 6.0\n#     plus_mm: 0.3\n#     minus_mm: 0.3\n#     feature: bore\n" in text
    assert "Hole 10" in text
    assert "Hole 8" not in text  # the void's
    (folder / "part.yml").write_text(uncommented(text), encoding="utf-8")
    filled_in(folder)
    kept = (folder / "part.yml").read_text("utf-8")
    assert "\n  up: " in kept
    assert "\n  wall_mm: " in kept
    found = [(each["code"], each["says"]) for each in problems(spares) if "EX-0100" in each["file"]]
    assert [code for code, _ in found] == ["PRINT06"]  # of the void, and of nothing that was proposed
    _, out, _ = spares("printing", "EX-0100")
    assert "Closed hollow: about 8 × 8 × 4 mm; support or powder in it cannot be taken out" in out


def test_without_features_no_check_is_made_up(depot, spares):
    mesh = depot / "plain.stl"
    plain = box(30, 20, 10)
    mesh.write_bytes(stl(plain.vertices_mm, plain.faces))
    assert spares("new", "EX-0101", "Bar", "--mesh", mesh, *KNOWN)[0] == 0
    text = (depot / "catalogue/parts/EX-0101-bar/part.yml").read_text("utf-8")
    assert "# checks:                  # what the part lives by" in text
    assert "nominal_mm: " not in text
    assert "Bore" not in text
