"""What lay there when it was reviewed is not what lies there when it is approved."""

import copy

import pytest

from tests.attacks import approval_depot as depot
from tests.attacks.approval_depot import (
    CAP,
    FIT,
    KNOB,
    NO,
    approve,
    fits,
    folder,
    history,
    kept,
    makers,
    material,
    part,
    refuses,
    walk,
)

SUBMITTED = "submitted|reviewed|changes.asked|review"


def in_review(demo, number=KNOB, *more):
    """Submitted and sent with the commands; nobody has approved yet."""
    catalogue = demo(number, *more)
    with history(catalogue, number) as record:
        depot.cut(record, "documents complete")
    walk(catalogue, number, names=["documents complete", "sent to technical review"])
    return catalogue


def told(answer):
    return answer.stdout + answer.stderr


def changed(**changes):
    def mutate(catalogue):
        with part(catalogue) as record:
            for key, value in changes.items():
                record[key] = record[key] | value if isinstance(value, dict) else value

    return mutate


def of_material(**changes):
    def mutate(catalogue):
        with material(catalogue) as record:
            record.update(changes)

    return mutate


def check(**changes):
    def mutate(catalogue):
        with part(catalogue) as record:
            record["checks"][0].update(changes)

    return mutate


def notes(catalogue):
    path = folder(catalogue) / "fitting.md"
    path.write_text(path.read_text().replace("- Do not lever", "- Lever"))


def another_drawing(catalogue):
    depot.again(catalogue, KNOB, "documents/new-drawing.txt", "Another drawing.\n")


def another_fire_report(catalogue):
    with material(catalogue) as record:
        for paper in record["fire_tests"]:
            paper.update(kept(catalogue / "materials", "documents/other.txt", "Other.\n"))


def another_bureau(catalogue):
    with makers(catalogue) as record:
        next(one for one in record["makers"] if one["id"] == "sinter-bureau-north")["name"] = "Kitchen table"


BETWEEN = {
    "the model": depot.other_mesh,
    "the orientation": changed(settings={"orientation": "lying on its side"}),
    "the layer": changed(settings={"layer_mm": 0.3}),
    "what is done after printing": changed(settings={"after_print": "as it comes"}),
    "the material": changed(material="pa12-natural"),
    "what the material is": of_material(density_g_cm3=1.0),
    "the family of the material": of_material(family="PA12"),
    "the revision": changed(revision="B", stock={"revision": "A"}),
    "the units of the model": changed(mesh_units="inch"),
    "the thinnest wall": changed(fire={"thinnest_wall_mm": 1.3}),
    "a tolerance": check(plus_mm=0.5),
    "a size": check(nominal_mm=7.15),
    "the fitting notes": notes,
    "the drawing": another_drawing,
    "the fire report": another_fire_report,
    "the firm that makes it": another_bureau,
}


@pytest.mark.parametrize("case", BETWEEN)
def test_what_changed_between_review_and_approval_is_not_fitted(demo, case):
    catalogue = in_review(demo)
    BETWEEN[case](catalogue)
    refuses(catalogue, SUBMITTED, before=told(approve(catalogue, "--despite-warnings")))


@pytest.mark.parametrize("case", ["the model", "the orientation", "a tolerance"])
def test_an_approval_typed_by_hand_binds_what_was_never_reviewed(demo, case):
    # the text that another folder's `approve` wrote after the change, put behind the old submission
    catalogue = in_review(demo)
    BETWEEN[case](catalogue)
    with history(catalogue) as record:
        before = copy.deepcopy(record["events"])
        depot.cut(record, "documents complete")
    depot.forgotten(catalogue)
    walk(catalogue, names=["documents complete", "sent to technical review"])
    answer = approve(catalogue)
    assert answer.returncode == 0, told(answer)
    with history(catalogue) as record:
        record["events"] = [*before, record["events"][-1]]
    depot.forgotten(catalogue)
    refuses(catalogue, "something else than was submitted")


def test_a_place_that_was_not_submitted_is_approved_with_the_rest(demo):
    catalogue = in_review(demo)
    with part(catalogue) as record:
        record["fits"].append({"fleet": "TR7", "place": "saloon", "per_vehicle": 2})
    approve(catalogue, "--scope", "TR7:701-708:saloon")
    said = depot.Said(catalogue)
    assert not {one for one in said.fitted if one[0] == "TR7"}, said.fitted


def test_a_place_that_became_a_worse_one_between_review_and_approval(demo):
    catalogue = in_review(demo)
    with depot.edited(catalogue / "fleets.yml") as record:
        record["fleets"][0]["operation_category"] = 3
    refuses(catalogue, SUBMITTED + "|fleet|category", before=told(approve(catalogue)))


def test_the_submission_of_the_file_before_the_last_one_is_approved(demo):
    # submitted, changed, submitted again; then the first state is put back and approved
    catalogue = in_review(demo)
    first = (folder(catalogue) / "model.stl").read_bytes()
    depot.other_mesh(catalogue)
    walk(catalogue, names=["documents complete", "sent to technical review"], mark="second")
    kept(folder(catalogue), "model.stl", first)
    refuses(catalogue, SUBMITTED, before=told(approve(catalogue)))


def test_changed_between_the_documents_and_the_review(demo):
    catalogue = demo()
    with history(catalogue) as record:
        depot.cut(record, "documents complete")
    walk(catalogue, names=["documents complete"])
    depot.other_mesh(catalogue)
    sent = depot.record(catalogue, KNOB, "sent to technical review", "am-specialist", "--reference", "PP")
    answer = approve(catalogue)
    refuses(catalogue, SUBMITTED, before=told(sent) + told(answer))


@pytest.mark.parametrize("name", ["documents complete", "sent to technical review"])
def test_the_text_of_a_submission_is_taken_out(demo, name):
    catalogue = in_review(demo)
    assert approve(catalogue).returncode == 0
    with history(catalogue) as record:
        for one in record["events"]:
            if one["what"] in (name, "documents complete"):
                del one["submitted_as"], one["fingerprint"]
    depot.forgotten(catalogue)
    assert refuses(catalogue, SUBMITTED).words() != {FIT}


def test_the_text_of_a_submission_does_not_have_its_fingerprint(demo):
    catalogue = in_review(demo)
    assert approve(catalogue).returncode == 0
    with history(catalogue) as record:
        one = depot.what(record, "documents complete")
        one["submitted_as"] = one["submitted_as"].replace("layer mm: 0.1", "layer mm: 0.3")
    depot.forgotten(catalogue)
    assert refuses(catalogue, SUBMITTED + "|fingerprint").words() == {NO}


def test_the_submission_of_another_part(demo):
    catalogue = in_review(demo, KNOB, CAP)
    with history(catalogue, CAP) as record:
        depot.cut(record, "documents complete")
    walk(catalogue, CAP, names=["documents complete", "sent to technical review"])
    assert approve(catalogue).returncode == 0
    with history(catalogue, CAP) as other, history(catalogue) as record:
        theirs, ours = depot.what(other, "documents complete"), depot.what(record, "documents complete")
        for name in ("submitted_as", "fingerprint", "revision"):
            ours[name] = theirs[name]
    depot.forgotten(catalogue)
    refuses(catalogue, SUBMITTED + "|number|part")


def test_submission_and_approval_exchange_their_days(demo):
    catalogue = in_review(demo)
    assert approve(catalogue).returncode == 0
    with history(catalogue) as record:
        events = record["events"]
        events[-1], events[-2] = events[-2], events[-1]
    depot.forgotten(catalogue)
    refuses(catalogue, SUBMITTED + "|order|approv")


# What the reviewer asked for


def asked_for(catalogue, **more):
    """B's model changed as the reviewer's letter asked, and was then approved."""
    depot.other_mesh(catalogue)
    kept(folder(catalogue), "documents/asked.txt", "Please chamfer the wing.\n")
    return approve(catalogue, "--changes-asked", "letter TR-26-77", "documents/asked.txt")


def test_what_the_reviewers_letter_asked_for_is_fitted(demo):
    catalogue = in_review(demo)
    answer = asked_for(catalogue)
    assert answer.returncode == 0, told(answer)
    fits(catalogue)


@pytest.mark.parametrize(
    "spoilt",
    [
        lambda asked: asked.pop("evidence"),
        lambda asked: asked.pop("reference"),
        lambda asked: asked["evidence"].update(sha256="0" * 64),
        lambda asked: asked["evidence"].update(file="documents/gone.txt"),
        lambda asked: asked.update(reference=""),
    ],
    ids=["no file", "no reference", "another file", "a file that is gone", "an empty reference"],
)
def test_a_letter_that_asked_for_nothing_is_not_fitted(demo, spoilt):
    catalogue = in_review(demo)
    answer = asked_for(catalogue)
    assert answer.returncode == 0, told(answer)
    with history(catalogue) as record:
        spoilt(record["events"][-1]["changes_asked"])
    depot.forgotten(catalogue)
    refuses(catalogue, "changes_asked|asked|reference|evidence|sha")


def test_the_letter_of_approval_is_not_the_letter_that_asked(demo):
    catalogue = in_review(demo)
    depot.other_mesh(catalogue)
    kept(folder(catalogue), "documents/one.txt", "Approved. Also please change it.\n")
    answer = approve(catalogue, "--changes-asked", "letter", "documents/one.txt", letter="documents/one.txt")
    refuses(catalogue, "letter|asked", before=told(answer))


def test_what_was_submitted_is_approved_and_fitted(demo):
    catalogue = in_review(demo)
    answer = approve(catalogue)
    assert answer.returncode == 0, told(answer)
    fits(catalogue)
