"""The theme's templates: listed without its ten thousand icons, and compiled once in a process."""

import os
from collections.abc import Callable
from types import CodeType

from jinja2 import Environment, FileSystemLoader
from jinja2.bccache import Bucket, BytecodeCache
from mkdocs.theme import Theme


def quicken(theme: Theme) -> None:
    """From here on the environments that the theme gives know both; what they make is the same."""
    given: Callable[[], Environment] = theme.get_env

    def get_env() -> Environment:
        env = given()
        if type(env.loader) is FileSystemLoader:
            env.loader = _SeenTemplates(env.loader.searchpath, env.loader.encoding, env.loader.followlinks)
            env.bytecode_cache = _COMPILED
        return env

    theme.get_env = get_env  # type: ignore[method-assign]


class _SeenTemplates(FileSystemLoader):
    """Hidden folders are not walked through: of their files MkDocs copies none, and what a page draws of them is asked for by name."""

    def list_templates(self) -> list[str]:
        found: set[str] = set()
        for place in self.searchpath:
            for here, folders, files in os.walk(place, followlinks=self.followlinks):
                folders[:] = [name for name in folders if not name.startswith(".")]
                inside = os.path.relpath(here, place).replace("\\", "/")
                found.update(name if inside == "." else f"{inside}/{name}" for name in files)
        return sorted(found)


class _Compiled(BytecodeCache):
    """Code by a template's name and place, as long as its text is the same; nothing of it lies on a disk, where others could write."""

    def __init__(self) -> None:
        self._codes: dict[str, tuple[str, CodeType]] = {}

    def load_bytecode(self, bucket: Bucket) -> None:
        checksum, code = self._codes.get(bucket.key, ("", None))
        if checksum == bucket.checksum:
            bucket.code = code

    def dump_bytecode(self, bucket: Bucket) -> None:
        if bucket.code is not None:
            self._codes[bucket.key] = bucket.checksum, bucket.code


_COMPILED = _Compiled()
