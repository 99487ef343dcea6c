"""What a material is, in words: what its author wrote shows, and a data sheet's figure is not taken for a test."""

import pytest

from generator.pages.fire.material_lines import data_lines
from generator.pages.wording import languages, wording
from generator.reading.catalogue import read_catalogue
from generator.records.materials import Properties
from tests.fixtures.tiny import DEPOT


@pytest.mark.parametrize("language", languages())
def test_the_oxygen_index_is_shown_as_a_figure_of_the_data_sheet(language):
    petg, w = read_catalogue(DEPOT).materials["petg"], wording(language)
    bare = dict(data_lines(petg.model_copy(update={"properties": Properties()}), w))
    told = dict(data_lines(petg.model_copy(update={"properties": Properties(limiting_oxygen_index_percent=28.5)}), w))
    (label,) = told.keys() - bare.keys()
    assert told[label] == {"en": "28.5 %"}.get(language, "28,5 %")
    assert "(" in label
    assert dict(data_lines(petg.model_copy(update={"properties": Properties(limiting_oxygen_index_percent=0)}), w))[label] == "0 %"
