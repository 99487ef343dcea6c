"""Does an encrypted PDF open without a password, for everybody? Many are only locked against changes.

The standard handler opens with the user password, and that may be empty (ISO 32000-1, 7.6.3: algorithms 2 and 4 to 6, for
revisions 2 to 4; ISO 32000-2, 7.6.4.3: algorithms 2.A and 2.B, for 5 and 6). All else counts as locked: a certificate's key, a
revision that is not known, what is written otherwise than there.
"""

import hashlib
from collections.abc import Iterable, Mapping
from functools import lru_cache

from generator.reading.pdf_objects import Value

_PADDING = bytes.fromhex("28bf4e5e4e758a4164004e56fffa01082e2e00b6d0683e802f0ca9fe6453697a")
_SUMS = (hashlib.sha256, hashlib.sha384, hashlib.sha512)


def opens_for_everybody(lock: Mapping[str, Value], identifiers: Iterable[bytes]) -> bool:
    """lock: what /Encrypt names. identifiers: the first of each /ID, of which the file's own is one.

    Some milliseconds, the first one twenty times as long.
    """
    revision, owner, user = lock.get("R"), lock.get("O"), lock.get("U")
    if lock.get("Filter") != "Standard" or not isinstance(owner, bytes) or not isinstance(user, bytes):
        return False
    if revision in (2, 3, 4) and len(user) >= 32 <= len(owner):
        given = _given(lock, owner[:32])
        return any(_opens_by_md5(int(revision), given, each, length, user) for each in (*identifiers, b"") for length in _lengths(lock))
    if revision == 5 and len(user) >= 48:
        return hashlib.sha256(user[32:40]).digest() == user[:32]
    return revision == 6 and len(user) >= 48 and _hardened(user[32:40]) == user[:32]


def _given(lock: Mapping[str, Value], owner: bytes) -> tuple[bytes, bytes]:
    """What of the dictionary goes into the key, before and behind the file's identifier."""
    permitted, hides_all = lock.get("P"), lock.get("EncryptMetadata") is not False
    return owner + (permitted & 0xFFFFFFFF if isinstance(permitted, int) else 0).to_bytes(4, "little"), b"" if hides_all or lock.get("R") != 4 else b"\xff" * 4


def _lengths(lock: Mapping[str, Value]) -> tuple[int, ...]:
    """How many bytes a key may have; what version 4 tells elsewhere is 16, whatever it tells here."""
    told = lock.get("Length")
    if lock.get("V") == 4:
        return (16,)
    return (told // 8,) if lock.get("V") == 2 and isinstance(told, int) and 40 <= told <= 128 else (5,)


def _opens_by_md5(revision: int, given: tuple[bytes, bytes], identifier: bytes, length: int, user: bytes) -> bool:
    before, behind = given
    key = _md5(_PADDING + before + identifier + behind)
    if revision == 2:
        return _rc4(key[:5], _PADDING) == user[:32]
    for _ in range(50):
        key = _md5(key[:length])
    told = _md5(_PADDING + identifier)
    for turn in range(20):
        told = _rc4(bytes(each ^ turn for each in key[:length]), told)
    return told == user[:16]


def _md5(content: bytes) -> bytes:
    return hashlib.md5(content, usedforsecurity=False).digest()


def _rc4(key: bytes, content: bytes) -> bytes:
    from cryptography.hazmat.decrepit.ciphers.algorithms import ARC4  # noqa: PLC0415  loaded where a file is locked
    from cryptography.hazmat.primitives.ciphers import Cipher  # noqa: PLC0415

    return Cipher(ARC4(key), mode=None).encryptor().update(content)


def _aes(key: bytes, before: bytes, content: bytes) -> bytes:
    """In chained blocks, whole ones."""
    from cryptography.hazmat.primitives.ciphers import Cipher, algorithms, modes  # noqa: PLC0415

    return Cipher(algorithms.AES(key), modes.CBC(before)).encryptor().update(content)


@lru_cache(maxsize=1024)
def _hardened(salt: bytes) -> bytes:
    """Algorithm 2.B of an empty user password."""
    key, turn, last = hashlib.sha256(salt).digest(), 0, 0
    while turn < 64 or last > turn - 32:
        mixed = _aes(key[:16], key[16:32], key * 64)
        key = _SUMS[sum(mixed[:16]) % 3](mixed).digest()
        turn, last = turn + 1, mixed[-1]
    return key[:32]
