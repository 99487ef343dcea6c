"""The fitting notes of a part: tools, steps, cautions and the check afterwards."""

import re
from dataclasses import dataclass

from generator.records.depot import Language

SECTIONS = ("Tools", "Steps", "Cautions", "Check after fitting")
_SECTIONS_IN = {
    Language.GERMAN: ("Werkzeug", "Schritte", "Vorsicht", "Prüfen nach dem Einbau"),
    Language.DANISH: ("Værktøj", "Fremgangsmåde", "Pas på", "Kontrol efter montering"),
}
# A heading counts in any of the languages, so that a depot may change its own.
_MEANS = {
    heading.casefold(): own
    for listed in (SECTIONS, *_SECTIONS_IN.values())
    for own, heading in zip(SECTIONS, listed, strict=True)
}


def headings(language: Language) -> tuple[str, ...]:
    """The headings of the notes as a new part's notes are begun, in the order of SECTIONS."""
    return _SECTIONS_IN.get(language, SECTIONS)


@dataclass(frozen=True, slots=True)
class FittingNotes:
    """fitting.md, cut at its second-level headings; each text is Markdown as the author wrote it."""

    tools: str
    steps: str
    cautions: str
    check_after_fitting: str
    more: str = ""
    """What stands before the first heading or under other headings."""

    @classmethod
    def from_markdown(cls, text: str) -> "FittingNotes":
        cut = re.split(r"^##[ \t]+(.+?)[ \t]*#*[ \t]*$", text, flags=re.MULTILINE)
        found = dict.fromkeys(SECTIONS, "")
        more = [re.sub(r"^#[ \t]+.*$", "", cut[0], count=1, flags=re.MULTILINE).strip()]
        for heading, body in zip(cut[1::2], cut[2::2], strict=True):
            known = _MEANS.get(heading.strip().casefold())
            if known:
                found[known] = (found[known] + "\n\n" + body.strip()).strip()
            else:
                more.append(f"### {heading}\n\n{body.strip()}")
        tools, steps, cautions, check = (found[name] for name in SECTIONS)
        return cls(tools, steps, cautions, check, more="\n\n".join(piece for piece in more if piece))

    @property
    def missing(self) -> tuple[str, ...]:
        texts = (self.tools, self.steps, self.cautions, self.check_after_fitting)
        return tuple(name for name, text in zip(SECTIONS, texts, strict=True) if not text)
