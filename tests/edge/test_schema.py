"""`spares schema`: a JSON Schema for each file, held against the JSON Schema specification and the demo's files."""

import json
from functools import cache
from pathlib import Path

import jsonschema
import pytest

from generator.reading.yaml_places import read_yaml
from generator.records.schemas import FILES, HANDED_OVER, KINDS, schema

ROOT = Path(__file__).parents[2]
CATALOGUES = [ROOT / "catalogue", ROOT / "tests" / "fixtures" / "depot"]
FOUND = [
    pytest.param(kind, file, id=f"{kind} {file.relative_to(ROOT)}")
    for root in CATALOGUES
    for kind, (_, pattern) in FILES.items()
    for file in sorted(root.glob(pattern))
]


@pytest.mark.parametrize("kind", KINDS)
def test_is_a_schema_by_the_meta_schema_of_draft_2020_12(kind):
    # The meta-schema is the one that the jsonschema library carries from json-schema.org.
    found = schema(kind)
    jsonschema.Draft202012Validator.check_schema(found)
    assert found["$schema"] == "https://json-schema.org/draft/2020-12/schema"


@cache
def validator(kind):
    return jsonschema.Draft202012Validator(schema(kind))


@pytest.mark.parametrize(("kind", "file"), FOUND)
def test_the_files_of_the_demo_pass(kind, file):
    content = read_yaml(str(file), file.read_bytes()).content
    validator(kind).validate(content)


# As the tablet's scripts write them (tests/browser holds these to the same records).
HANDED = {
    "fitted": """fitted: 1
railway: "R"
depot: "D"
made_on: 2026-11-25
rows:
  - {day: 2026-11-25, fleet: "F1", vehicle: "2", place: "cab", part: "P-0004", batch: "B-0011", count: 2, by: "fitter", row: "0a"}
""",
    "inspection": """railway: "R"
depot: "D"
batch: B-0002
part: "P-0004"
revision: "A"
on: 2026-11-25
by: "specialist"
checks:
  - {check: "Bore", values_mm: [6.01, 6.02], gauge: "pin", calibrated_until: 2027-03-31}
""",
}


@pytest.mark.parametrize("kind", HANDED_OVER)
def test_what_a_tablet_hands_over_passes_and_a_mistake_does_not(kind):
    content = read_yaml(f"{kind}.yml", HANDED[kind].encode()).content
    held = jsonschema.Draft202012Validator(schema(kind))
    held.validate(content)
    assert not held.is_valid({key: value for key, value in content.items() if key != "depot"})
    assert not held.is_valid(content | {"depots": "D"})


def test_every_kind_of_file_is_in_the_demo():
    assert {parameter.values[0] for parameter in FOUND} == set(FILES)


@pytest.mark.parametrize(
    ("kind", "change"),
    [("part", {"nam": "x"}), ("part", {"fits": []}), ("approval", {"events": [{"what": "hoped"}]})],
)
def test_an_editor_would_mark_a_mistake(kind, change):
    file = next((ROOT / "tests/fixtures/depot/parts").glob(f"*/{kind}.yml"))
    content = read_yaml(str(file), file.read_bytes()).content | change
    assert not jsonschema.Draft202012Validator(schema(kind)).is_valid(content)


def test_an_unknown_kind_is_our_own_mistake():
    with pytest.raises(ValueError, match="no file has the schema 'parts'"):
        schema("parts")


def test_prints_one_or_all(spares):
    code, out, _ = spares("schema", "part")
    assert (code, json.loads(out)) == (0, schema("part"))
    _, out, _ = spares("schema")
    assert json.loads(out) == {kind: schema(kind) for kind in KINDS}


def test_writes_them_to_a_folder_and_says_how_to_wire_them(spares, tmp_path):
    code, out, _ = spares("schema", "--to", tmp_path / "schemas")
    assert code == 0
    assert sorted(each.name for each in (tmp_path / "schemas").iterdir()) == sorted(
        f"{kind}.schema.json" for kind in KINDS
    )
    wired = json.loads(out[out.index("{") :])["yaml.schemas"]
    assert wired[f"{tmp_path}/schemas/part.schema.json"] == "catalogue/parts/*/part.yml"
    assert wired[f"{tmp_path}/schemas/fitted.schema.json"] == "**/fitted-*.yml"


def test_a_folder_that_cannot_be_made_is_one_message(spares, tmp_path):
    (tmp_path / "file").write_text("x")
    code, _, err = spares("schema", "--to", tmp_path / "file")
    assert (code, err.count("\n")) == (1, 2)
