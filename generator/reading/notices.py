"""What is not there, or is there in vain: nothing contradicts, and yet somebody should look at it."""

from generator.reading.part_folder import ReadFolder
from generator.records.approvals import Approval, Approved, TrialClosed, TrialOpened, Withdrawn
from generator.records.parts import SafetyRole
from generator.records.problems import Severity, Where


def add_notices(folder: ReadFolder) -> None:
    """Add a warning for each file that is missing, and for each entry that says nothing for this part."""
    _without_approval(folder)
    _fitting_notes(folder)
    _photos(folder)
    _idle_waiver(folder)


def _without_approval(folder: ReadFolder) -> None:
    if folder.approval_yml is None:
        fix = f'record how far it is: spares record {folder.number} "design started" --by ROLE'
        folder.add("APPR24", Where(folder.folder), "has no approval.yml", fix, Severity.WARNING)


def _fitting_notes(folder: ReadFolder) -> None:
    """Somebody is to fit it, so somebody has to say how."""
    if folder.has_fitting or folder.approval is None or not _may_stand(folder.approval):
        return
    says = "has no fitting.md, although an approval or trial stands"
    fix = "write fitting.md with '## Tools', '## Steps', '## Cautions' and '## Check after fitting'"
    folder.add("FIT03", Where(folder.folder), says, fix, Severity.WARNING)


def _may_stand(approval: Approval) -> bool:
    """Whether an approval or trial was given and not taken back since, whatever its last day."""
    approved = on_trial = False
    for event in approval.events:
        approved = (approved or isinstance(event, Approved)) and not isinstance(event, Withdrawn)
        ends_trial = isinstance(event, Withdrawn | TrialClosed | Approved)
        on_trial = (on_trial or isinstance(event, TrialOpened)) and not ends_trial
    return approved or on_trial


def _photos(folder: ReadFolder) -> None:
    for photo in folder.strange_photos:
        fix = "put a whole JPEG, PNG or WebP picture of at most 50 million dots there, or move the file to documents/"
        folder.add("PHOTO01", Where(photo), "is no picture that can be shown, and is left out", fix, Severity.WARNING)


def _idle_waiver(folder: ReadFolder) -> None:
    approval, part = folder.approval, folder.part
    if not (approval and approval.waiver and part and folder.approval_yml):
        return
    if part.safety_role is SafetyRole.NONE:
        where = folder.approval_yml.where(("waiver",))
        says = "waives the authority for a part without a safety role"
        fix = "take the waiver out, or write 'safety_role: safety' in part.yml if it has one"
        folder.add("APPR27", where, says, fix, Severity.WARNING)
