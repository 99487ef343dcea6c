"""ssh-keygen, asked to sign and to verify: the one judge of a signature. See ssh-keygen(1), -Y sign and -Y verify."""

import os
import shutil
import subprocess
import tempfile
from collections.abc import Iterator, Mapping, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from datetime import date
from enum import StrEnum
from pathlib import Path

from generator.provenance.signing.signature import NAMESPACE
from generator.systems.processes import unasking

PROGRAM = "ssh-keygen"
_PATIENCE_S = 20
# A key on a card waits until somebody touches it.
_TOUCH_S = 120
_LIST, _SIGNATURE = "allowed_signers", "signature"


class Trouble(StrEnum):
    """Why nothing was signed."""

    NO_PROGRAM = "no program"
    NO_FILE = "no file"
    OPEN_TO_OTHERS = "open to others"
    ENCRYPTED = "encrypted"
    NO_PRIVATE_HALF = "no private half"
    NO_KEY = "no key"
    TOO_LATE = "too late"
    OTHER = "other"


# What ssh-keygen says (OpenSSH 9.2, tried) → what it means.
_SAID = (
    ("are too open", Trouble.OPEN_TO_OTHERS),
    ("incorrect passphrase", Trouble.ENCRYPTED),
    ("No private key found for public key", Trouble.NO_PRIVATE_HALF),
    ("Couldn't load public key", Trouble.NO_KEY),
    ("invalid format", Trouble.NO_KEY),
)


class CannotSignError(Exception):
    """Nothing was signed: why, and in ssh-keygen's words where it has any."""

    def __init__(self, trouble: Trouble, reason: str = "") -> None:
        super().__init__(f"{trouble} {reason}")
        self.trouble = trouble
        self.reason = reason


def is_there() -> bool:
    return shutil.which(PROGRAM) is not None


def signed(text: str, key: Path) -> str:
    """The armoured signature of a text by a private key, or by the half in the agent of a public one.

    Raises CannotSignError. Nobody is asked for a passphrase: a key that has one is signed with by the agent.
    """
    if not is_there():
        raise CannotSignError(Trouble.NO_PROGRAM)
    if not key.is_file():
        raise CannotSignError(Trouble.NO_FILE)
    words = ("-Y", "sign", "-n", NAMESPACE, "-f", str(key.absolute()))
    try:
        told = _asked(words, text, {**os.environ, "SSH_ASKPASS_REQUIRE": "never"}, seconds=_TOUCH_S)
    except subprocess.TimeoutExpired as late:
        raise CannotSignError(Trouble.TOO_LATE) from late
    if told.returncode or not told.stdout:
        trouble = next((meant for says, meant in _SAID if says in told.stderr), Trouble.OTHER)
        raise CannotSignError(trouble, _last_line(told.stderr))
    return told.stdout


def name_of(key: Path) -> str:
    """The fingerprint, such as 'SHA256:…', of a private key, locked or not, or of a public one. Raises CannotSignError."""
    _refuse_missing(key)
    told = _asked(("-l", "-E", "sha256", "-f", str(key.absolute())), "", os.environ, seconds=_PATIENCE_S)
    words = told.stdout.split()
    if told.returncode or len(words) < 2:
        raise CannotSignError(Trouble.NO_KEY, _last_line(told.stderr))
    return words[1]


def _refuse_missing(key: Path) -> None:
    if not is_there():
        raise CannotSignError(Trouble.NO_PROGRAM)
    if not key.is_file():
        raise CannotSignError(Trouble.NO_FILE)


@dataclass(frozen=True, slots=True)
class Verifier:
    """A list of allowed signers, laid out for ssh-keygen to read."""

    folder: Path

    def objection(self, text: str, signature: str, role: str, day: date) -> str | None:
        """None where the signature is one of the text by a key that the role had on that day; else ssh-keygen's words."""
        words = ("verify", f"-Overify-time={day:%Y%m%d}", "-I", role, "-f", _LIST)
        return self._told(words, text, signature)

    def fits(self, text: str, signature: str) -> bool:
        """Whether it is a signature of this text, by whatever key."""
        return self._told(("check-novalidate",), text, signature) is None

    def _told(self, words: Sequence[str], text: str, signature: str) -> str | None:
        with tempfile.NamedTemporaryFile("w", dir=self.folder, encoding="utf-8", newline="\n", delete=False) as file:
            file.write(signature.strip() + "\n")
        # Times without a zone are those of UTC, so that the same files give the same answer everywhere.
        world = {**os.environ, "TZ": "UTC", "LC_ALL": "C"}
        words = ("-Y", *words, "-n", NAMESPACE, "-s", Path(file.name).name)
        try:
            told = _asked(words, text, world, seconds=_PATIENCE_S, folder=self.folder)
        except subprocess.TimeoutExpired:
            return "no answer"
        except FileNotFoundError:
            return f"{PROGRAM} is gone"
        return None if told.returncode == 0 else _first_line(told.stderr)


@contextmanager
def verifier(allowed: bytes) -> Iterator[Verifier]:
    with tempfile.TemporaryDirectory(prefix="spares-") as folder:
        (Path(folder) / _LIST).write_bytes(allowed)
        yield Verifier(Path(folder))


def _asked(
    words: Sequence[str], text: str, world: Mapping[str, str], *, seconds: float, folder: Path | None = None
) -> subprocess.CompletedProcess[str]:
    """What ssh-keygen answers; it can ask nobody at a terminal."""
    told = subprocess.run(
        (shutil.which(PROGRAM) or PROGRAM, *words),
        input=text.encode("utf-8"), capture_output=True, check=False,
        env=world, timeout=seconds, cwd=folder, **unasking(),
    )  # fmt: skip
    out, err = (each.decode("utf-8", "replace") for each in (told.stdout, told.stderr))
    return subprocess.CompletedProcess(told.args, told.returncode, out, err)


def _first_line(said: str) -> str:
    return next((line.strip() for line in said.splitlines() if line.strip()), "no reason given")


def _last_line(said: str) -> str:
    return next((line.strip() for line in reversed(said.splitlines()) if line.strip()), "no reason given")
