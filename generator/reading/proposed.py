"""How a part's folder would read if some of its files were other than they are: judged before anything is written."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from pathlib import Path, PurePosixPath

from generator.reading.crosschecks import check_folder
from generator.reading.disk import Disk
from generator.reading.kinds import kept_as_handed
from generator.reading.letters import check_letters
from generator.reading.part_folder import read_part_folder
from generator.records.catalogue import Catalogue, KeptFile, PartFolder


@dataclass(slots=True)
class _ProposedDisk(Disk):
    """The catalogue's folder with some files' bytes replaced or added."""

    instead: Mapping[str, bytes] = field(default_factory=dict)

    def names(self, folder: str) -> list[str]:
        own = {PurePosixPath(file).name for file in self.instead if str(PurePosixPath(file).parent) == folder}
        return sorted(own.union(Disk.names(self, folder)))

    def raw(self, file: str) -> bytes | None:
        return self.instead[file] if file in self.instead else Disk.raw(self, file)

    def letter(self, file: str) -> bytes | None:
        return self.instead[file] if file in self.instead else Disk.letter(self, file)

    def kept(self, file: str) -> KeptFile | None:
        content = self.instead.get(file)
        if content is None:
            return Disk.kept(self, file)
        return kept_as_handed(file, content)


def proposed_folder(
    root: Path, catalogue: Catalogue, folder: str, instead: Mapping[str, bytes]
) -> PartFolder:
    """Read one part's folder with the files of `instead` (paths in the catalogue) as they would be, and check it."""
    found = read_part_folder(_ProposedDisk(root, instead=instead), folder)
    check_folder(found, catalogue, {each.number for each in catalogue.parts} | {found.number})
    check_letters([found], [*(each for each in catalogue.parts if each.folder != folder), found], catalogue.materials.values())
    return found.closed()
