"""Whatever lies in a part's folder, the site is built, other parts keep their word, check names it."""

import pytest

from tests.attacks.poisoned_depot import LIMIT_S, Outcome, everything_in, offered, said
from tests.attacks.poisons import GROUPS, KEPT, SECRET


@pytest.fixture(scope="module")
def outcome(tmp_path_factory, warm_store):
    """The outcome of a group, made when it is first asked for."""
    made = {}

    def of(group):
        if group not in made:
            made[group] = Outcome(group, tmp_path_factory.mktemp(group), warm_store)
        return made[group]

    return of


@pytest.mark.parametrize("group", GROUPS)
def test_no_file_of_one_part_keeps_the_withdrawal_of_another_from_getting_out(outcome, group):
    build = outcome(group).build
    assert build is not None, f"the build did not end within {LIMIT_S} s"
    assert build.returncode == 0, said(build)
    page = (outcome(group).site / "parts/EX-0001.html").read_text(encoding="utf-8")
    assert "Do not fit" in page
    assert "Withdrawn on 20 Nov 2026: it cracks" in page


@pytest.mark.parametrize("group", GROUPS)
def test_no_file_of_one_part_takes_the_word_from_another(outcome, group):
    page = (outcome(group).site / "parts/EX-0002.html").read_text(encoding="utf-8")
    assert "the answer was: Fit it. Approved by L-2" in page  # the words of a page without scripts


@pytest.mark.parametrize("group", GROUPS)
def test_nobody_is_shown_a_traceback(outcome, group):
    for ran in (outcome(group).build, outcome(group).check):
        assert ran is not None, f"it did not end within {LIMIT_S} s"
        assert "Traceback" not in said(ran), said(ran)
        assert "fault of spares" not in said(ran), said(ran)


EACH = [(group, slug, rule) for group, poisons in GROUPS.items() for slug, (rule, _) in poisons.items()]


@pytest.mark.parametrize("group", GROUPS)
def test_every_poisoned_part_still_has_a_page_or_is_named(outcome, group):
    one = outcome(group)
    assert not [slug for slug in GROUPS[group] if not one.page(slug).is_file() and not one.told(slug)]


NAMED = [(group, slug, rule) for group, slug, rule in EACH if rule not in {None, KEPT}]


@pytest.mark.parametrize(("group", "slug", "name"), NAMED)
def test_check_names_what_is_left_out(outcome, group, slug, name):
    named = [problem["file"] + " " + problem["says"] for problem in outcome(group).told(slug)]
    assert any(name in one for one in named), f"{name} is not among {named}"


@pytest.mark.parametrize(("group", "slug"), [(group, slug) for group, slug, rule in EACH if rule == KEPT])
def test_no_document_vanishes_unsaid(outcome, group, slug):
    """Each is offered byte for byte on the part's page, shown there as text, or named by check."""
    one = outcome(group)
    page = one.page(slug)
    assert page.is_file()
    if not any(one.kept[slug] in content for content in offered(one.site, page)):
        assert any("documents" in problem["file"] + problem["says"] for problem in one.told(slug))


@pytest.mark.parametrize("slug", ["md-and-html", "readme-md"])
def test_two_documents_never_take_one_place(outcome, slug):
    one = outcome("markdown")
    page = one.page(slug)
    for file in (one.folders[slug] / "documents").iterdir():
        assert file.read_bytes() in offered(one.site, page), file.name


def test_no_two_files_of_a_site_differ_in_case_alone(outcome):
    """Else one of them is lost where the copy is unpacked onto a stick."""
    site = outcome("names").site
    names = [str(file.relative_to(site)).casefold() for file in site.rglob("*") if file.is_file()]
    assert "parts/ex-0001.html" in names
    assert len(names) == len(set(names))


@pytest.mark.parametrize("group", ["links", "names"])
def test_nothing_from_outside_the_catalogue_gets_into_the_site(outcome, group):
    contents = list(everything_in(outcome(group).site))
    assert contents
    assert not [content[:60] for content in contents if SECRET in content]
