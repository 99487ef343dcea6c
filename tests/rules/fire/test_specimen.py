"""What a report says of its laboratory and its specimen is held to its word: a denial is no number, a print has layers.

Common practice, no source: ISO/IEC 17025 knows scopes and numbers of accreditation, no words for having none.
"""

import pytest

from generator.records.fire import Layers
from generator.rules.fire.results import EVERY_LAYER, layers_told
from tests.rules.fire.scene import cases, found, scene_of, verdict


def _verdict(*change):
    scene = scene_of({"base": "good", "change": change})
    return verdict(found(scene), scene["today"])


def test_the_scene_itself_is_fitted():
    assert cases()["bases"]["good"]
    assert _verdict() == "fit"


@pytest.mark.parametrize("said", [
    "not accredited", "lapsed 2019", "Expired 31.12.2022", "withdrawn", "accreditation pending", "suspended since May", "no accreditation",
    "applied for", "without", "N/A", "none", "NO", "unaccredited", "OTH-0417 (expired)",
])  # fmt: skip
def test_an_accreditation_that_is_denied_asks(said):
    assert _verdict(["reports.0.accreditation", said]) == "ask"


@pytest.mark.parametrize("said", ["OTH-0417", "No. 417", "NA-417", "D-PL-14 417-01-00", "Notified body 0417", "lab 417, scope E"])
def test_a_number_in_whatever_form_counts(said):
    assert _verdict(["reports.0.accreditation", said]) == "fit"


@pytest.mark.parametrize(("process", "layers", "told"), [
    ("material extrusion", ("along", "across"), EVERY_LAYER),
    ("material extrusion", ("along",), {Layers.ALONG}),
    ("material extrusion", ("none",), set()),
    ("material extrusion", ("along", "none"), set()),
    (None, ("none",), set()),
    ("moulded", ("none",), EVERY_LAYER),
    ("moulded", ("along", "none"), set()),
])  # fmt: skip
def test_only_what_was_moulded_has_no_layers(process, layers, told):
    scene = scene_of({"base": "good", "change": ()})
    report = found(scene).rows[0].report.model_copy(update={"process": process})
    result = report.results[0].model_copy(update={"layers": tuple(map(Layers, layers))})
    assert layers_told(report, result) == told
