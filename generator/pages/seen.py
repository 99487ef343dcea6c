"""What does one see of a part: its model drawn, or in its place a photo, or a placeholder of our own?"""

from collections.abc import Iterable, Iterator

from generator.pages.addresses import link
from generator.pages.outputs import Asset
from generator.pages.part.offered import below_the_site, offered
from generator.pages.wording import Wording
from generator.records.parts import WithoutModel
from generator.rules.sheet import Sheet


def thumb_of(sheet: Sheet, stem: str) -> str | None:
    """The small picture's address in the site; None where there should be a model and none can be drawn."""
    return f"assets/pictures/{stem}-thumb.webp" if sheet.pictures else instead_of_model(sheet, stem)


def instead_of_model(sheet: Sheet, stem: str) -> str | None:
    """The first photo of a part that says that it has no model, else the placeholder, by its address in the site."""
    if sheet.part is None or sheet.part.no_model is None:
        return None
    photos = (each for path, each in offered(sheet.folder, stem).items() if path.startswith("photos/"))
    first = next(photos, None)
    return link(below_the_site(first.place)) if first else _placeholder(sheet.part.no_model.because)


def placeholders(sheets: Iterable[Sheet], w: Wording) -> Iterator[Asset]:
    """Those that the parts need."""
    wanted = {sheet.part.no_model.because for sheet in sheets if sheet.part and sheet.part.no_model}
    for because in sorted(wanted):
        yield Asset(path=_placeholder(because), content=_drawn(w(f"part.placeholder.{because}")).encode())


def _placeholder(because: WithoutModel) -> str:
    return f"assets/pictures/no-model-{because.replace(' ', '-')}.svg"


def _drawn(says: str) -> str:
    """A box in dashes, as one draws what is not there yet, and what there is to say."""
    # Who only asks which picture stands for a part loads no templates.
    from generator.pages.marks import safe  # noqa: PLC0415

    box = "M220 170L320 120L420 170V270L320 320L220 270ZM220 170L320 220L420 170M320 220V320"
    return (
        '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 640 480" width="640" height="480">'
        '<rect width="640" height="480" fill="#f4f7fa"/>'
        f'<path d="{box}" fill="none" stroke="#5d6b7a" stroke-width="5" stroke-dasharray="14 10" stroke-linejoin="round"/>'
        '<text x="320" y="400" font-family="sans-serif" font-size="44" font-weight="bold" text-anchor="middle" '
        f'fill="#2b3642">{safe(says)}</text></svg>\n'
    )
