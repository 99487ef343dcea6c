"""What keeps a part from "Fit it" by the permit that a record ends with, told before anything is written."""

from generator.edge.commands.terminal import Terminal
from generator.edge.one_part import OnePart
from generator.pages.approvals.mends import MendLine, lack_lines, move_lines
from generator.pages.wording import wording
from generator.planning.overview import Missing, missing_documents
from generator.planning.unfit import lacks, lacks_of_last_permit
from generator.records.catalogue import PartFolder

# The table itself asks this, by another name: does the authority have its say?
DECIDED_ELSEWHERE = {"authority_route"}


def tell_lacking(part: OnePart, terminal: Terminal, would_be: PartFolder) -> None:
    """Show what is missing of the part as it would be, each with its mend, and stop nothing."""
    lines = lacking(part, would_be)
    if lines:
        terminal.say(wording(part.catalogue.language)("approve.missing"), "bold yellow")
        terminal.mends(lines)


def tell_papers(part: OnePart, terminal: Terminal, would_be: PartFolder, *, acceptance_alone: bool) -> None:
    """What a reviewer would not find of the part as it would be. acceptance_alone: nothing is submitted yet."""
    sheet, w = part.judged_as(would_be), wording(part.catalogue.language)
    asked = (Missing.ACCEPTANCE_EVIDENCE,) if acceptance_alone else tuple(Missing)
    lines = move_lines(sheet, (each for each in missing_documents(sheet) if each in asked), part.catalogue, w)
    if lines:
        terminal.say(w("recorded.missing"), "bold yellow")
        terminal.mends(lines)


def approval_lines(part: OnePart, would_be: PartFolder, *, is_trial: bool = False) -> tuple[MendLine, ...]:
    """What keeps the permit that the record would end with from "Fit it", and for an approval what a reviewer reads."""
    sheet, w = part.judged_as(would_be), wording(part.catalogue.language)
    lacking = lacks_of_last_permit(sheet, part.day)
    asked = {taken.step.id for lack in lacking for taken in lack.taken}
    papers = () if is_trial else missing_documents(sheet)
    papers = tuple(what for what in papers if what.name.lower() not in asked | DECIDED_ELSEWHERE)
    return (*lack_lines(sheet, lacking, part.catalogue, w, unbound=True), *move_lines(sheet, papers, part.catalogue, w))


def lacking(part: OnePart, would_be: PartFolder) -> tuple[MendLine, ...]:
    sheet = part.judged_as(would_be)
    return lack_lines(sheet, lacks(sheet), part.catalogue, wording(part.catalogue.language))
