"""What an SSH signature says of itself: whose key made it, and for what.

OpenSSH, PROTOCOL.sshsig: armour around the bytes "SSHSIG", a version, then as strings with their lengths the public
key, the namespace, a reserved field, the hash and the signature proper. It is read here to say why one does not count; that
it counts, only ssh-keygen says.
"""

import base64
import binascii
import hashlib
from dataclasses import dataclass

NAMESPACE = "spares-event"
_BEGIN, _END = "-----BEGIN SSH SIGNATURE-----", "-----END SSH SIGNATURE-----"
_MAGIC = b"SSHSIG"


@dataclass(frozen=True, slots=True)
class Signature:
    """An SSH signature as it names itself."""

    key: bytes
    """The public key, in the form of RFC 4253, section 6.6."""
    namespace: str


def signature_in(armoured: str) -> Signature | None:
    """The signature in an armoured text, None where it holds none."""
    lines = armoured.strip().splitlines()
    if len(lines) < 3 or lines[0] != _BEGIN or lines[-1] != _END:
        return None
    try:
        blob = base64.b64decode("".join(lines[1:-1]), validate=True)
        key, rest = _string(blob.removeprefix(_MAGIC)[4:])
        namespace = _string(rest)[0].decode("utf-8")
    except (binascii.Error, ValueError):
        return None
    return Signature(key, namespace) if blob.startswith(_MAGIC) and key else None


def _string(blob: bytes) -> tuple[bytes, bytes]:
    """A string with its length in four bytes before it (RFC 4251, section 5), and what follows."""
    length = int.from_bytes(blob[:4])
    if len(blob) < 4 + length:
        raise ValueError("cut off")
    return blob[4 : 4 + length], blob[4 + length :]


def key_name(key: bytes) -> str:
    """A key's fingerprint as `ssh-keygen -l` writes it."""
    return "SHA256:" + base64.b64encode(hashlib.sha256(key).digest()).decode().rstrip("=")
