"""What a column of a list can tell of a part."""

from enum import StrEnum


class Field(StrEnum):
    """The names by which a map calls them."""

    NUMBER = "number"
    REVISION = "revision"
    NAME = "name"
    OTHER_NAMES = "other names"
    PURPOSE = "purpose"
    SYMPTOMS = "symptoms"
    OLD_NUMBERS = "old numbers"
    FLEET = "fleet"
    VEHICLES = "vehicles"
    PLACE = "place"
    PER_VEHICLE = "per vehicle"
    SAFETY_ROLE = "safety role"
    MATERIAL = "material"
    MAKERS = "makers"
    SIZE = "size"
    LENGTH = "length"
    WIDTH = "width"
    HEIGHT = "height"
    YEARLY_DEMAND = "yearly demand"
    SHELF_PLACE = "shelf place"
    ON_SHELF = "on shelf"
    NO_MODEL = "no model"
    """Why there is no mesh: bought, drawing only, scan to come."""
    MESH_FILE = "mesh file"
    DOCUMENTS = "documents"
    LETTER_NUMBER = "letter number"
    LETTER_DATE = "letter date"
    APPROVED_BY = "approved by"
    APPROVED_FOR = "approved for"
    """For whom the signer acted: customer or authority."""
    VALID_UNTIL = "valid until"
    LETTER_FILE = "letter file"
    CONDITIONS = "conditions"
    LEFT_OUT = "left out"


# Several columns may tell one of these; each of the others stands in one column.
SEVERAL = frozenset({Field.OLD_NUMBERS, Field.OTHER_NAMES, Field.SYMPTOMS, Field.DOCUMENTS, Field.LEFT_OUT})
LENGTHS = frozenset({Field.SIZE, Field.LENGTH, Field.WIDTH, Field.HEIGHT})
APPROVAL = (
    Field.LETTER_NUMBER,
    Field.LETTER_DATE,
    Field.APPROVED_BY,
    Field.APPROVED_FOR,
    Field.VALID_UNTIL,
    Field.LETTER_FILE,
)
# What a list may take from one value for all rows. Whether a part bears on safety, and what was approved, is asked of a person
# for each part; numbers and names are each part's own.
DEFAULTS = frozenset(
    {
        Field.REVISION,
        Field.PURPOSE,
        Field.FLEET,
        Field.VEHICLES,
        Field.PLACE,
        Field.PER_VEHICLE,
        Field.MATERIAL,
        Field.MAKERS,
        Field.SHELF_PLACE,
        Field.NO_MODEL,
    }
)
# Of these a catalogue has a list, or the record has few words.
WORDS = frozenset(
    {
        Field.FLEET,
        Field.PLACE,
        Field.MATERIAL,
        Field.MAKERS,
        Field.SAFETY_ROLE,
        Field.NO_MODEL,
        Field.APPROVED_FOR,
        Field.VALID_UNTIL,
        Field.VEHICLES,
        Field.CONDITIONS,
    }
)
# What is kept as it was typed; a text that says nothing is found by those who read the record.
FREE_TEXT = frozenset({Field.NAME, Field.PURPOSE, Field.SHELF_PLACE, Field.CONDITIONS})
# Of these only single words have a meaning of their own; all else in them is a day, a range or a text.
ONE_WORD = frozenset({Field.VALID_UNTIL, Field.VEHICLES, Field.CONDITIONS})
