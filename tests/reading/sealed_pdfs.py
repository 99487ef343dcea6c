"""Writes sealed_pdfs.json: small encrypted PDFs as another library makes them, the oracle of whether they open without a password.

`python -m tests.reading.sealed_pdfs`, after `pip install -e ".[tests,by-hand]"`; no test runs it, since salts are new in each run.
"""

import base64
import io
import itertools
import json
from pathlib import Path

KEPT = Path(__file__).with_suffix(".json")
PLAIN = ", metadata plain"
# Revision 2 to 6, as pypdf calls them; of the last three, for its rounds are more or fewer.
ALGORITHMS = ("RC4-40", "RC4-128", "AES-128", "AES-128" + PLAIN, "AES-256-R5", "AES-256")
PASSWORDS = ("", "secret")


def made(algorithm, password):
    from pypdf import PdfWriter

    writer = PdfWriter()
    writer.add_blank_page(72, 72)
    writer.encrypt(password, owner_password="owner", algorithm=algorithm.removesuffix(PLAIN))
    if algorithm.endswith(PLAIN):  # which the library writes by itself alone
        from pypdf.generic import BooleanObject, NameObject

        writer._encryption.EncryptMetadata = False
        entry = writer._encryption.write_entry(password, "owner")
        writer._encrypt_entry.update({**entry, NameObject("/EncryptMetadata"): BooleanObject(False)})
    stream = io.BytesIO()
    writer.write(stream)
    return stream.getvalue()


def opens(content):
    """Whether the oracle opens it with an empty user password."""
    from pypdf import PasswordType, PdfReader

    return PdfReader(io.BytesIO(content)).decrypt("") is PasswordType.USER_PASSWORD


def kept():
    """Each file and whether it opens, by algorithm and password."""
    told = json.loads(KEPT.read_text())
    return [(each["algorithm"], base64.b64decode(each["content"]), each["opens"]) for each in told]


if __name__ == "__main__":
    asked = [*itertools.product(ALGORITHMS, PASSWORDS), ("AES-256", ""), ("AES-256", "")]
    files = [(algorithm, made(algorithm, password)) for algorithm, password in asked]
    told = [{"algorithm": name, "opens": opens(content), "content": base64.b64encode(content).decode()} for name, content in files]
    KEPT.write_text(json.dumps(told, indent=1) + "\n")
