"""The fitting notes of a part: tools, steps, cautions and the check afterwards."""

import re
from dataclasses import dataclass

SECTIONS = ("Tools", "Steps", "Cautions", "Check after fitting")


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
            known = next((name for name in SECTIONS if name.casefold() == heading.strip().casefold()), None)
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
