"""As whom is a command given: which role does somebody keep for good?"""

import os
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import yaml

from generator.edge.refusals import Ending, disk_refusal, refused
from generator.systems.folders import settings_folder

_VARIABLE = "SPARES_ROLE"
_LARGEST_BYTES = 10_000


@dataclass(frozen=True, slots=True)
class UsualRole:
    role: str
    source: str
    """Where it is kept, as one would look for it."""


def settings_file() -> Path | None:
    """The user's own settings, where the system keeps such; None where nobody has a home."""
    folder = settings_folder()
    return folder / "spares" / "settings.yml" if folder else None


def usual_role() -> UsualRole | None:
    """The variable SPARES_ROLE, else what the user's settings say. Raises Refusal for settings that cannot be read."""
    said = os.environ.get(_VARIABLE, "").strip()
    if said:
        return UsualRole(said, _VARIABLE)
    file = settings_file()
    content = _settings(file) if file else {}
    role = content.get("role")
    if role is not None and (not isinstance(role, str) or not role.strip()):
        raise refused("settings_role", Ending.MISUSE, file=str(file))
    return UsualRole(role.strip(), str(file)) if role else None


def keep_role(role: str) -> Path:
    """Write the role into the user's settings, beside whatever else stands there. Raises Refusal."""
    file = settings_file()
    if file is None:
        raise refused("settings_nowhere", variable=_VARIABLE)
    _write(file, _settings(file) | {"role": role})
    return file


def forget_role() -> bool:
    """Whether a role was kept, which is so no longer; what else stands in the settings stays. Raises Refusal."""
    file = settings_file()
    content = _settings(file) if file else {}
    if file is None or content.pop("role", None) is None:
        return False
    _write(file, content)
    return True


def _write(file: Path, content: dict[str, Any]) -> None:
    try:
        file.parent.mkdir(parents=True, exist_ok=True)
        file.write_text(yaml.safe_dump(content, allow_unicode=True, sort_keys=True), encoding="utf-8", newline="\n")
    except OSError as error:
        raise disk_refusal(error, "writing", file) from error


def _settings(file: Path) -> dict[str, Any]:
    try:
        if not file.is_file():
            return {}
        with file.open("rb") as stream:
            raw = stream.read(_LARGEST_BYTES)
        found = yaml.safe_load(raw.decode("utf-8-sig"))
    except OSError as error:
        raise disk_refusal(error, "reading", file) from error
    except (yaml.YAMLError, UnicodeDecodeError, RecursionError, ValueError):
        raise refused("settings_unread", Ending.MISUSE, file=str(file)) from None
    if found is not None and not isinstance(found, dict):
        raise refused("settings_none", Ending.MISUSE, file=str(file))
    return found or {}
