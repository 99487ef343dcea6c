"""Does the screening answer the questions that the depot's law asks, and is the paper there that it names?"""

from collections.abc import Iterable

from generator.reading.papers import evidence_file
from generator.reading.placing import Finding
from generator.records.catalogue import KeptFile
from generator.records.law import Law
from generator.records.problems import wrong
from generator.records.screening import Screening


def screening_findings(screening: Screening | None, files: dict[str, KeptFile], law: Law) -> Iterable[Finding]:
    if screening is None:
        return
    asked = {question.id for question in law.questions}
    for name in screening.own_answers:
        if name not in asked:
            path = ("screening", "own_answers", name)
            yield wrong("SCRN01", "not asked", "asked" if asked else "no own law", path=path, name=name, asked=sorted(asked))
    if screening.authorisation:
        yield from evidence_file(screening.authorisation.evidence, files, ("screening", "authorisation", "evidence"))
