"""`spares fire-tests`: the tests to order next."""

import json


def without_results(depot):
    """The depot's one report of PETG without its oxygen index."""
    file = depot / "catalogue/materials/petg.yml"
    file.write_text("".join(line for line in file.read_text("utf-8").splitlines(keepends=True) if "test: T01" not in line), "utf-8")


def test_it_lists_the_test_and_what_it_frees(depot, spares):
    without_results(depot)
    code, out, _ = spares("fire-tests")
    assert code == 0
    assert out.startswith("What to test next\n")
    assert "T01, oxygen index" in out
    assert "1.5 mm thick; colour: natural; formulation: type 1; solid" in out
    assert "EX-0001" in out


def test_json_is_for_machines(depot, spares):
    without_results(depot)
    told = json.loads(spares("fire-tests", "--format", "json")[1])
    first = next(each for each in told["tests"] if each["material"] == "petg" and each["test"] == "T01")
    assert (first["thickness_mm"], first["limits"][-1]["limit"], first["layers"]) == (1.5, 28.0, ["across", "along"])
    assert any(first["number"] in best["tests"] and best["exact"] for best in told["best"])


def test_on_a_later_day_what_has_ended_by_then_is_open(depot, spares):
    today = json.loads(spares("fire-tests", "--format", "json")[1])
    later = json.loads(spares("fire-tests", "--format", "json", "--on", "2027-10-01")[1])
    assert later["open_parts"] > today["open_parts"]
