"""Which inspection documents count on a route: by type, by what they speak of and by who says it; the earlier end counts."""

from dataclasses import replace
from datetime import date, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator.records.approvals import Approval, Route
from generator.records.inspection import Asked, InspectionDocument, InspectionDocuments, SpeaksOf
from generator.rules.basis import Basis
from generator.rules.facts.case import Case, Copy
from generator.rules.facts.fields import OPEN
from generator.rules.facts.of_fire import fire_found
from generator.rules.facts.of_papers import paper_facts
from generator.rules.history import history
from generator.rules.inspection import inspected
from tests.fixtures.tiny import DAY, KNOB
from tests.rules.cases import tiny

TYPES = ["2.1", "2.2", "3.1", "3.2"]
CERTIFICATE = tiny().materials["petg"].certificates[0]
ENDS = date(2027, 12, 31)
COUPONS = {"speaks_of": SpeaksOf.COUPONS, "issued_by": "Depot, inspection", "reference": "C-coupons"}


def paper(kind="3.1", **own):
    return CERTIFICATE.model_copy(update={"type": InspectionDocument(kind)} | own)


def coupons(kind="3.1", **own):
    return paper(kind, **COUPONS | own)


def facts(*papers, route=Route.AUTHORITY, asked=None, supplier=None, files=None):
    told = {} if asked is None else {"inspection_documents": InspectionDocuments(**{route.value: asked})}
    petg = tiny().materials["petg"].model_copy(update={"certificates": papers, "supplier": supplier})
    kept = tiny().material_files if files is None else files
    catalogue = replace(tiny(), depot=tiny().depot.model_copy(update=told), materials={"petg": petg}, material_files=kept)
    folder = tiny().folder(KNOB)
    case = Case(
        folder=folder, part=folder.part, catalogue=catalogue, history=history(Approval(route=route), DAY), copy=Copy(DAY, 30), bound={}, problems=()
    )
    basis = Basis(petg, folder.part.fire, is_safety=False)
    return paper_facts(case, basis, fire_found(case, folder.part.fits[0], basis))


BOTH = Asked(least=InspectionDocument.CERTIFICATE_3_1, printed_coupons=True)


@pytest.mark.parametrize(("route", "least"), [(Route.CUSTOMER, "2.2"), (Route.AUTHORITY, "3.1")])
@pytest.mark.parametrize("kind", TYPES)
def test_the_usual_least_types(route, least, kind):
    """EN 10204:2004 names the types; which one a route asks for is common practice, no source."""
    found = facts(paper(kind), route=route)
    assert (found.certificate_until is not None) is (TYPES.index(kind) >= TYPES.index(least))
    assert (found.certificates_lower == ()) is (found.certificate_until is not None)


@pytest.mark.parametrize("least", TYPES)
@pytest.mark.parametrize("kind", TYPES)
def test_a_type_covers_itself_and_those_below_it(least, kind):
    found = facts(paper(kind), asked=Asked(least=InspectionDocument(least)))
    assert (found.certificate_until == ENDS) is (TYPES.index(kind) >= TYPES.index(least))


def test_a_makers_document_cannot_speak_of_what_was_printed():
    found = facts(paper(), asked=BOTH)
    assert (found.certificate_until, found.lacks_coupons) == (None, ("C-petg (EN 10204 3.1)",))
    assert facts(paper("3.2"), asked=BOTH).certificate_until is None


def test_one_of_each_kind_and_the_earlier_end_counts():
    early = ENDS - timedelta(days=90)
    found = facts(paper(), coupons(valid_until=early), asked=BOTH)
    assert (found.certificate_until, found.lacks_coupons) == (early, ())
    assert found.certificate == "C-petg (EN 10204 3.1), C-coupons (EN 10204 3.1)"
    assert facts(paper(valid_until=early), coupons(), asked=BOTH).certificate_until == early
    assert facts(paper(valid_until=None, open_ended=True), coupons(), asked=BOTH).certificate_until == ENDS
    assert facts(paper(valid_until=None, open_ended=True), coupons(valid_until=None, open_ended=True), asked=BOTH).certificate_until is OPEN


def test_coupons_alone_say_nothing_of_the_feedstock():
    assert facts(coupons(), asked=BOTH).certificate_until is None
    found = facts(coupons())
    assert (found.certificate_until, found.certificates_not_asked) == (None, ("C-coupons (EN 10204 3.1)",))


@pytest.mark.parametrize("unknown", [{"valid_until": None}, {"open_ended": True}], ids=["no end", "two ends"])
def test_a_document_of_unknown_end_leaves_the_end_unknown(unknown):
    assert facts(paper(**unknown), coupons(), asked=BOTH).certificate_until is None
    assert facts(paper(), coupons(**unknown), asked=BOTH).certificate_until is None


@pytest.mark.parametrize("issuer", [None, "TBD", "-", "Resins Ltd", "RESINS  Ltd"])
def test_coupons_inspected_by_nobody_or_by_the_supplier_do_not_count(issuer):
    found = facts(paper(), coupons(issued_by=issuer), asked=BOTH, supplier="Resins Ltd")
    assert (found.certificate_until, found.certificates_by_nobody) == (None, ("C-coupons (EN 10204 3.1)",))
    assert facts(paper(), coupons(), asked=BOTH, supplier="Resins Ltd").certificate_until == ENDS


@pytest.mark.parametrize("spoilt", [{"file": "documents/none.txt"}, {"sha256": "9" * 64}, {"issued_on": DAY + timedelta(days=1)}], ids=str)
def test_what_is_not_kept_or_to_come_does_not_count_and_is_told(spoilt):
    for papers in ((paper(**spoilt), coupons()), (paper(), coupons(**spoilt))):
        found = facts(*papers, asked=BOTH)
        assert found.certificate_until is None
        assert len(found.certificates_not_kept) == 1


def test_coupons_are_of_the_asked_type_too():
    found = facts(paper(), coupons("2.2"), asked=BOTH)
    assert (found.certificate_until, found.certificates_lower) == (None, ("C-coupons (EN 10204 2.2)",))


papers = st.builds(
    lambda kind, end, own: paper(kind, valid_until=end, open_ended=False, **own),
    st.sampled_from(TYPES), st.none() | st.sampled_from([ENDS, DAY, DAY - timedelta(days=1)]),
    st.sampled_from([{}, COUPONS, COUPONS | {"issued_by": None}]),
)  # fmt: skip
SOONEST = date.min


@given(st.lists(st.tuples(papers, st.booleans()), max_size=4), st.sampled_from(TYPES), st.booleans())
def test_asking_for_more_never_lasts_longer(listed, least, with_coupons):
    kind = InspectionDocument(least)
    asks = [Asked(least=kind, printed_coupons=with_coupons), *(Asked(least=InspectionDocument(each), printed_coupons=True) for each in TYPES if each >= least)]
    usual = inspected(listed, asks[0], None).until or SOONEST
    assert all((inspected(listed, more, None).until or SOONEST) <= usual for more in asks[1:])


@given(st.lists(st.tuples(papers, st.booleans()), max_size=4), st.sampled_from(TYPES), st.booleans())
def test_it_never_lasts_longer_than_any_kept_document(listed, least, with_coupons):
    """What was asked before there were types and kinds: one kept document, the longest."""
    asked = Asked(least=InspectionDocument(least), printed_coupons=with_coupons)
    before = max((each.valid_until or SOONEST for each, is_kept in listed if is_kept), default=SOONEST)
    assert (inspected(listed, asked, None).until or SOONEST) <= before
