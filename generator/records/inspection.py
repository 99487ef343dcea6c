"""Inspection documents of a material (EN 10204): of which type, of what they speak, and which each route asks for."""

from enum import StrEnum

from generator.records.base import Record


class InspectionDocument(StrEnum):
    """Types of inspection document of EN 10204:2004, used for plastics by analogy; each says more than those before it."""

    DECLARATION = "2.1"
    TEST_REPORT = "2.2"
    CERTIFICATE_3_1 = "3.1"
    CERTIFICATE_3_2 = "3.2"


class SpeaksOf(StrEnum):
    """What was inspected."""

    FEEDSTOCK = "feedstock"
    """The filament or powder as it was delivered."""
    COUPONS = "printed coupons"
    """Specimens that were printed as the part is."""


class Asked(Record):
    """What a route asks of a material's inspection documents."""

    least: InspectionDocument
    """The least type, such as '3.1'."""
    printed_coupons: bool = False
    """Whether a document on printed coupons is asked too, beside the one on the feedstock."""


class InspectionDocuments(Record):
    """What each route asks; the types left out are common practice, no source."""

    customer: Asked = Asked(least=InspectionDocument.TEST_REPORT)
    authority: Asked = Asked(least=InspectionDocument.CERTIFICATE_3_1)


USUAL = InspectionDocuments()
