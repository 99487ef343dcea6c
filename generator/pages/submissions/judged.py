"""What was judged and what happened: the screening of the change, what carries over, the record with its questions, and what a fitter is told."""

import re
from collections.abc import Iterator, Sequence

from generator.pages.holding.section import holds_view
from generator.pages.part.screening import screening_view
from generator.pages.part.story import EventLine, events, role_name
from generator.pages.submissions.case import SubmissionCase
from generator.pages.submissions.kinds import Block, ReviewQuestion, SubmissionSection
from generator.records.approvals import Approved, Event, QuestionAnswered, QuestionAsked
from generator.rules.walking import letters_of

# Bold before slanted, since the longer sign holds the shorter one (CommonMark 6.2); nothing within a word is slanted.
_SIGNS = tuple(
    re.compile(rf"(?<![\w\\*]){sign}(?=\S)(.+?)(?<=\S){sign}(?![\w*])") for sign in (r"\*\*\*", r"\*\*", "__", r"\*", "_", "`")
)


def screening(case: SubmissionCase) -> SubmissionSection:
    w, found = case.w, screening_view(case.sheet, case.around)
    if found is None:
        return SubmissionSection(key="screening", heading=w("submission.section.screening"), blocks=(), nothing=w("submission.nothing.screening"))
    columns = (w("screening.question"), w("screening.answer"), w("submission.label.by"))
    rows = tuple((line.question, line.answer, line.who or w("missing")) for line in found.lines)
    earlier = w.count("screening.earlier", found.count) if found.count else w("screening.none_earlier")
    listed = tuple((each.number, each.name, each.day) for each in found.earlier)
    heads = tuple(w(f"submission.label.{key}") for key in ("number", "name", "day"))
    blocks = (
        Block(says=(found.law,), columns=columns, rows=rows),
        Block(says=(earlier, *((w.count("screening.more", found.more),) if found.more else ())), columns=heads if listed else (), rows=listed),
    )
    return SubmissionSection(key="screening", heading=w("submission.section.screening"), blocks=blocks)


def carried_over(case: SubmissionCase) -> SubmissionSection:
    """Which steps of an earlier way count, who says so, and what becomes of pieces with earlier labels."""
    w, blocks = case.w, list[Block]()
    for event in _events(case):
        if isinstance(event, Approved) and event.carries_over:
            said = event.carries_over
            steps = ", ".join(w.term("way_step", step) for step in said.steps)
            told = w("event.carries_over", steps=steps, why=said.why, by=role_name(said.by, case.catalogue), reference=said.reference)
            blocks.append(Block(says=(f"{w.day(event.on)}: {told}",), documents=case.own([said.evidence.file])))
    older = dict.fromkeys(ground.label_revision for ground in case.sheet.grounds if ground.label_revision)
    if older:
        blocks.append(Block(says=(w("submission.older_labels", revisions=", ".join(map(str, older))),)))
    held = holds_view(case.around.holds.get(case.sheet.number), w)
    if held:
        blocks.append(Block(heading=w("submission.in_service"), says=tuple(filter(None, (held.counts, held.says, held.unpaired or "", *held.out)))))
        blocks += [Block(says=(trial.head, *trial.lines)) for trial in held.trials]
    if not blocks:
        blocks.append(Block(says=(w("submission.nothing_carries"),)))
    return SubmissionSection(key="carried", heading=w("submission.section.carried"), blocks=tuple(blocks))


def _events(case: SubmissionCase) -> Sequence[Event]:
    """What had happened by the day."""
    return [each for each in case.sheet.folder.approval.events if each.on <= case.day] if case.sheet.folder.approval else []


def questions(happened: Sequence[Event]) -> tuple[ReviewQuestion, ...]:
    """The record ties no answer to a question, so they are told in the order in which they came."""
    found: list[ReviewQuestion] = []
    for event in happened:
        if isinstance(event, QuestionAsked):
            found.append(ReviewQuestion(number=len(found) + 1, asked=event, answer=None))
        elif isinstance(event, QuestionAnswered):
            at = next((at for at, each in enumerate(found) if each.answer is None), None)
            if at is not None:
                found[at] = ReviewQuestion(number=found[at].number, asked=found[at].asked, answer=event)
    return tuple(found)


def questions_of(case: SubmissionCase) -> tuple[ReviewQuestion, ...]:
    return questions(_events(case))


def numbering(case: SubmissionCase) -> str:
    """Questions come back by number: what was asked is told with its answer, and the next question has the next number."""
    w, n = case.w, len(questions_of(case))
    if not n:
        return w("submission.numbered_first")
    return w.count("submission.numbered", n, next=w.number(n + 1), section=w("submission.section.history"))


def history(case: SubmissionCase) -> SubmissionSection:
    """Questions first, by their numbers, then every event, oldest first."""
    w = case.w
    asked = tuple(_question_row(each, case) for each in questions_of(case))
    columns = tuple(w(f"submission.label.{key}") for key in ("question_number", "question", "answer", "document"))
    questioned = Block(heading=w("submission.questions") if asked else "", columns=columns if asked else (), rows=asked)
    every = case.sheet.folder.approval.events if case.sheet.folder.approval else ()
    lines = reversed(events(case.sheet.folder, case.catalogue, case.stem, w))
    rows = tuple(_event_row(line, event, case) for line, event in zip(lines, every, strict=True) if event.on <= case.day)
    columns = tuple(w(f"submission.label.{key}") for key in ("day", "event", "by", "reference", "document"))
    told = Block(heading=w("event.heading") if rows else "", columns=columns if rows else (), rows=rows)
    return SubmissionSection(key="history", heading=w("submission.section.history"), blocks=(questioned, told), nothing=w("submission.nothing.history"))


def _question_row(each: ReviewQuestion, case: SubmissionCase) -> tuple[str, ...]:
    w, answer = case.w, each.answer
    said = w("submission.unanswered")
    if answer:
        said = "\n".join(filter(None, (w.day(answer.on), answer.note or "", answer.reference or "")))
    files = (each.file for each in (*each.asked.evidence, *(answer.evidence if answer else ())))
    asked = f"{each.asked.question}\n{w.day(each.asked.on)}, {role_name(each.asked.by, case.catalogue)}"
    return f"Q{each.number}", asked, said, _listed(case.own(files), case)


def _event_row(line: EventLine, event: Event, case: SubmissionCase) -> tuple[str, ...]:
    letters = letters_of(event) if isinstance(event, Approved) else event.evidence
    what = "\n".join((line.what, *line.details))
    return line.day, what, line.by, line.reference or case.w("missing"), _listed(case.own(each.file for each in letters), case)


def _listed(numbers: Sequence[int], case: SubmissionCase) -> str:
    return ", ".join(f"D{each}" for each in numbers) or case.w("missing")


def cautions(case: SubmissionCase) -> SubmissionSection:
    """The notes line by line, as their author wrote them; the signs of their Markdown are left out."""
    w, notes = case.w, case.sheet.folder.fitting
    told = {"cautions": notes.cautions, "tools": notes.tools, "steps": notes.steps, "check": notes.check_after_fitting, "more": notes.more} if notes else {}
    blocks = tuple(Block(heading=w(f"fitting.{key}"), says=tuple(_lines(text))) for key, text in told.items() if text)
    return SubmissionSection(key="cautions", heading=w("submission.section.cautions"), blocks=blocks, nothing=w("submission.nothing.cautions"))


def _lines(text: str) -> Iterator[str]:
    yield from (plain(line.strip()) for line in text.splitlines() if line.strip())


def plain(line: str) -> str:
    """A line of Markdown without its signs for bold, slanted and code; a product such as 4*10*2 and a name such as a_b_c stay."""
    for sign in _SIGNS:
        line = sign.sub(r"\1", line)
    return line
