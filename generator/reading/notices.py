"""What is not there, or is there in vain: nothing contradicts, and yet somebody should look at it."""

from generator.reading.part_folder import ReadFolder
from generator.records.approvals import Approval, Approved, TakenOver, TrialClosed, TrialOpened, Withdrawn
from generator.records.parts import SafetyRole
from generator.records.problems import Where, doubt


def add_notices(folder: ReadFolder) -> None:
    """Add a warning for each file that is missing, and for each entry that says nothing for this part."""
    _without_approval(folder)
    _fitting_notes(folder)
    _photos(folder)
    _idle_waiver(folder)


def _without_approval(folder: ReadFolder) -> None:
    if folder.approval_yml is None:
        folder.add(Where(folder.folder), doubt("APPR24", "no approval", number=folder.number))


def _fitting_notes(folder: ReadFolder) -> None:
    """Somebody is to fit it, so somebody has to say how."""
    if folder.has_fitting or folder.approval is None or not _may_stand(folder.approval):
        return
    folder.add(Where(folder.folder), doubt("FIT03", "no notes"))


def _may_stand(approval: Approval) -> bool:
    """Whether an approval or trial was given and not taken back since, whatever its last day."""
    approved = on_trial = False
    for event in approval.events:
        approved = (approved or isinstance(event, Approved | TakenOver)) and not isinstance(event, Withdrawn)
        ends_trial = isinstance(event, Withdrawn | TrialClosed | Approved)
        on_trial = (on_trial or isinstance(event, TrialOpened)) and not ends_trial
    return approved or on_trial


def _photos(folder: ReadFolder) -> None:
    for photo in folder.strange_photos:
        folder.add(Where(photo), doubt("PHOTO01", "no picture", "put or move"))


def _idle_waiver(folder: ReadFolder) -> None:
    approval, part = folder.approval, folder.part
    if not (approval and approval.waiver and part and folder.approval_yml):
        return
    if part.safety_role is SafetyRole.NONE:
        folder.add(folder.approval_yml.where(("waiver",)), doubt("APPR27", "idle waiver"))
