"""Do the inspection documents of lots name them, as far as a program reads what they say?"""

from collections.abc import Callable, Iterable, Mapping

from generator.reading.letter_text import names, told_in
from generator.records.lots import Lot
from generator.rules.production.naming import DOCUMENTS, comparison_of


def named_in(lots: Iterable[Lot], content_of: Callable[[str], bytes | None]) -> Mapping[tuple[str, str], bool]:
    """Whether the number stands in the text, by the document's path in the catalogue and that number; without those that no program reads.

    What somebody has compared is not read: it may be a scan of many pages. content_of: the bytes of a file of the catalogue.
    """
    found: dict[tuple[str, str], bool] = {}
    for lot in lots:
        for paper in lot.inspection_documents:
            path = f"{DOCUMENTS}/{paper.file}"
            content = None if comparison_of(paper, lot) else content_of(path)
            text = None if content is None else told_in(paper.file, content)
            if text is not None:
                found[path, paper.lot] = names(text, paper.lot)
    return found
