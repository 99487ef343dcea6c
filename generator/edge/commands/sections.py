"""What a page tells in headed tables and sentences, as the terminal tells it."""

from collections.abc import Iterable

from generator.assemble.whole_way import Assembled
from generator.edge.commands.terminal import Terminal
from generator.pages.reports.told import Names, ReportSection
from generator.pages.wording import wording
from generator.records.depot import NO_CURRENCY


def names_in(found: Assembled) -> Names:
    """As these sections call parts, roles and money."""
    catalogue = found.catalogue
    titles = {sheet.number: sheet.title for sheet in reversed(found.sheets)}
    currency = catalogue.depot.currency if catalogue.depot else NO_CURRENCY
    return Names(catalogue=catalogue, parts=titles, currency=currency, w=wording(catalogue.language))


def tell_sections(sections: Iterable[ReportSection], terminal: Terminal) -> None:
    for section in sections:
        terminal.say()
        terminal.say(section.heading, "bold")
        if section.rows:
            terminal.table(section.columns, [row.cells for row in section.rows])
        for sentence in section.sentences:
            terminal.say(sentence)
