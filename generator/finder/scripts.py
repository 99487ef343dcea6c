"""The browser's scripts: which there are, in which order they run, and joined into bundles for a page or the engine."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import yaml

PLACE = "assets/js"
"""Where scripts lie below a folder of pages, and bundles in a site."""
ORDER = "order.yml"
_LOADER = getattr(yaml, "CSafeLoader", yaml.SafeLoader)  # the same in C is eight times as fast
_FIRST = "var spares = globalThis.spares || {};\n"


@dataclass(frozen=True, slots=True)
class Scripts:
    """The scripts below `folder`; each bundle has its own in the order in which they need each other."""

    folder: Path
    bundles: Mapping[str, tuple[str, ...]]

    @property
    def sources(self) -> tuple[str, ...]:
        """Every script that is in a bundle, and what stands beside them for authors only."""
        types = (file.relative_to(self.folder).as_posix() for file in sorted(self.folder.rglob("*.d.ts")))
        return (*(name for names in self.bundles.values() for name in names), *types, ORDER)

    def bundle(self, name: str) -> str:
        """The text of a bundle. Raises OSError where one of its scripts cannot be read."""
        return self._joined(self.bundles[name])

    def room(self, name: str) -> str:
        """The scripts of a folder such as finder/ without any that touch a page. Raises OSError as above."""
        return self._joined(each for names in self.bundles.values() for each in names if each.startswith(f"{name}/"))

    def _joined(self, names: Iterable[str]) -> str:
        texts = (f"\n// {name}\n{(self.folder / name).read_text(encoding='utf-8').strip()}\n" for name in names)
        return _FIRST + "".join(texts)


def read_scripts(folder: Path) -> Scripts:
    """The scripts that order.yml names. Raises OSError where it is missing, ValueError where it is no such list."""
    try:
        read: Any = yaml.load((folder / ORDER).read_text(encoding="utf-8"), Loader=_LOADER)  # noqa: S506  a safe one
    except yaml.YAMLError as error:
        raise ValueError(f"{folder / ORDER} cannot be read: {error}") from error
    if not isinstance(read, dict) or not all(isinstance(names, list) for names in read.values()):
        raise ValueError(f"{folder / ORDER} is no list of bundles")
    return Scripts(folder, {str(name): tuple(map(str, names)) for name, names in read.items()})
