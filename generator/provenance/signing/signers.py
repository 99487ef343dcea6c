"""The list of allowed signers: which key belongs to which roles, and from when until when.

ssh-keygen(1), section ALLOWED SIGNERS: a line holds principals, options, kind of key, key. ssh-keygen itself reads it
when it verifies; it is read here to name roles, and to say why a signature does not count. The times of a key are those
of UTC here, so that the same files give the same answer everywhere.
"""

import base64
import binascii
import re
from dataclasses import dataclass
from datetime import UTC, date, datetime
from fnmatch import fnmatchcase

from generator.provenance.signing.signature import NAMESPACE, key_name
from generator.reading.disk import Disk
from generator.records.depot import Signatures

_LINE = re.compile(
    r'(?P<principals>"[^"]*"|\S+)[ \t]+'
    r'(?:(?P<options>(?:[^\s"]|"(?:[^"\\]|\\.)*")+)[ \t]+)??'
    r"(?P<kind>(?:ssh|ecdsa|sk-ssh|sk-ecdsa)-[\w@.-]+)[ \t]+(?P<key>[A-Za-z0-9+/]+=*)(?:[ \t].*)?"
)
_ONE_ROLE = re.compile(r"[^*?!,\s]+")
_OPTION = re.compile(r'(?:^|,)([A-Za-z-]++)(?:="((?:[^"\\]|\\.)*+)"|=([^,"]*+))?(?=,|$)')
_TIMES = {8: "%Y%m%d", 12: "%Y%m%d%H%M", 14: "%Y%m%d%H%M%S"}


@dataclass(frozen=True, slots=True, kw_only=True)
class Signer:
    """One line of the list."""

    line: int
    principals: tuple[str, ...]
    key: bytes
    namespaces: tuple[str, ...] = ()
    after: datetime | None = None
    before: datetime | None = None
    is_authority: bool = False
    """Whether the key signs certificates of keys, and no events itself."""

    def speaks_for(self, role: str) -> bool:
        return _matches(role, self.principals)

    @property
    def signs_events(self) -> bool:
        return not self.namespaces or _matches(NAMESPACE, self.namespaces)

    def has_begun(self, day: date) -> bool:
        """As of the day's beginning, as ssh-keygen is asked."""
        return self.after is None or self.after <= _beginning(day)

    def lasts_on(self, day: date) -> bool:
        return self.before is None or _beginning(day) <= self.before


@dataclass(frozen=True, slots=True)
class Signers:
    """The list as it is, and what could be read of it."""

    content: bytes
    signers: tuple[Signer, ...]
    unread: tuple[int, ...]
    """Numbers of lines that are none; ssh-keygen passes over them."""

    def of_key(self, key: bytes) -> tuple[Signer, ...]:
        return tuple(each for each in self.signers if each.key == key)

    def of_name(self, name: str) -> tuple[Signer, ...]:
        """The lines of the key with this fingerprint."""
        return tuple(each for each in self.signers if key_name(each.key) == name)


def signers_of(rule: Signatures, disk: Disk) -> Signers | None:
    """The list that a depot names; None where there is none, or where it cannot be read, which the disk then tells."""
    content = disk.raw(rule.allowed_signers) if disk.is_there(rule.allowed_signers) else None
    return read_signers(content) if content is not None else None


def read_signers(content: bytes) -> Signers:
    """The list in the bytes of an allowed-signers file, as ssh-keygen is given it.

    A line names one role. ssh-keygen would take patterns and lists of names as well; one key that speaks for every role
    would be the end of four eyes.
    """
    signers, unread, given = [], [], []
    for number, raw in enumerate(content.split(b"\n"), start=1):
        text = raw.decode("utf-8", "replace").strip()
        signer = _signer(number, text) if text and not text.startswith("#") else None
        given.append(raw if signer else b"")
        if signer:
            signers.append(signer)
        elif text and not text.startswith("#"):
            unread.append(number)
    return Signers(b"\n".join(given), tuple(signers), tuple(unread))


def _signer(number: int, text: str) -> Signer | None:
    found = _LINE.fullmatch(text)
    if not found or not _ONE_ROLE.fullmatch(found["principals"].strip('"')):
        return None
    options = {each[1].lower(): each[2] or each[3] or "" for each in _OPTION.finditer(found["options"] or "")}
    try:
        return Signer(
            line=number,
            principals=tuple(found["principals"].strip('"').split(",")),
            key=base64.b64decode(found["key"], validate=True),
            namespaces=tuple(options["namespaces"].split(",")) if "namespaces" in options else (),
            after=_time(options.get("valid-after")),
            before=_time(options.get("valid-before")),
            is_authority="cert-authority" in options,
        )
    except (binascii.Error, ValueError):
        return None


def _time(text: str | None) -> datetime | None:
    """Raises ValueError for what is no time."""
    if text is None:
        return None
    digits = text.removesuffix("Z").removesuffix("z")
    return datetime.strptime(digits, _TIMES.get(len(digits), "%Y%m%d")).replace(tzinfo=UTC)


def _beginning(day: date) -> datetime:
    return datetime(day.year, day.month, day.day, tzinfo=UTC)


def _matches(name: str, patterns: tuple[str, ...]) -> bool:
    """A pattern-list of ssh_config(5), section PATTERNS: '*' and '?' stand for letters, '!' takes out again."""
    named = [each.removeprefix("!") for each in patterns if _fits(name, each.removeprefix("!"))]
    return bool(named) and not any(each.startswith("!") and _fits(name, each[1:]) for each in patterns)


def _fits(name: str, pattern: str) -> bool:
    return fnmatchcase(name, pattern.replace("[", "[[]"))
