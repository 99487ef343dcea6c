"""From where and as whom is a command given: the catalogue around it, and the role that somebody keeps for good?"""

import os
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import yaml

from generator.edge.refusals import Ending, Refusal, disk_refusal
from generator.systems.folders import settings_folder, user_home

USUAL_CATALOGUE = Path("catalogue")
_VARIABLE = "SPARES_ROLE"
_LARGEST_BYTES = 10_000


def catalogue_around() -> Path:
    """The usual folder beside which one stands, else the nearest around one, never above one's own home."""
    here = Path.cwd()
    for above in () if USUAL_CATALOGUE.is_dir() else (here, *here.parents):
        found = next((each for each in (above, above / USUAL_CATALOGUE) if (each / "depot.yml").is_file()), None)
        if found:
            return Path(os.path.relpath(found, here))
        if above == user_home():
            break
    return USUAL_CATALOGUE


def beside_catalogue(catalogue: Path, name: str) -> Path:
    """Something that lies beside the catalogue, or in it where the whole depot is one folder."""
    if catalogue == USUAL_CATALOGUE:
        return Path(name)
    is_inside = catalogue.resolve().name == USUAL_CATALOGUE.name
    return Path(os.path.normpath((catalogue / ".." if is_inside else catalogue) / name))


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
        raise Refusal(f"{file}: 'role' is no role", "write it as role: am-specialist", Ending.MISUSE)
    return UsualRole(role.strip(), str(file)) if role else None


def keep_role(role: str) -> Path:
    """Write the role into the user's settings, beside whatever else stands there. Raises Refusal."""
    file = settings_file()
    if file is None:
        raise Refusal("this account has no folder for its settings", f"set the variable {_VARIABLE} instead")
    content = _settings(file) | {"role": role}
    try:
        file.parent.mkdir(parents=True, exist_ok=True)
        file.write_text(yaml.safe_dump(content, allow_unicode=True, sort_keys=True), encoding="utf-8", newline="\n")
    except OSError as error:
        raise disk_refusal(error, f"writing {file}") from error
    return file


def _settings(file: Path) -> dict[str, Any]:
    try:
        if not file.is_file():
            return {}
        with file.open("rb") as stream:
            raw = stream.read(_LARGEST_BYTES)
        found = yaml.safe_load(raw.decode("utf-8-sig"))
    except OSError as error:
        raise disk_refusal(error, f"reading {file}") from error
    except (yaml.YAMLError, UnicodeDecodeError, RecursionError, ValueError):
        raise Refusal(f"{file} cannot be read", "mend it, or take it away; it holds one line, role: ROLE", Ending.MISUSE) from None
    if found is not None and not isinstance(found, dict):
        raise Refusal(f"{file} holds no settings", "write it as role: am-specialist", Ending.MISUSE)
    return found or {}
