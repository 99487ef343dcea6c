"""Of which part is a folder, as it was called at any time? A folder may have got another name behind its number."""

from collections.abc import Callable, Iterable

from generator.records.catalogue import PartFolder


def owners(parts: Iterable[PartFolder]) -> Callable[[str], str | None]:
    """What tells of a folder, such as parts/TV-0417-louvre, the number of the part that it belongs to now; None where there is none."""
    listed = tuple(parts)
    by_folder = {folder.folder: folder.number for folder in listed}
    numbers = sorted({folder.number for folder in listed}, key=len, reverse=True)

    def owner(folder: str) -> str | None:
        name = folder.removeprefix("parts/").casefold()
        return by_folder.get(folder) or next((each for each in numbers if _is_of(name, each.casefold())), None)

    return owner


def _is_of(name: str, number: str) -> bool:
    rest = name.removeprefix(number)
    return name.startswith(number) and (not rest or (rest[0] == "-" and not rest[1:2].isdigit()))
