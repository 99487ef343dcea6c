"""Does a paper lie where its record says, as the file that was recorded?"""

from collections.abc import Collection

from generator.records.catalogue import Catalogue, KeptFile
from generator.records.fire import FireTest
from generator.records.materials import Certificate


def is_file(file: KeptFile | None, sha256: str) -> bool:
    """Whether it is there, not empty, the file that was recorded, and nothing keeps people from opening it."""
    return file is not None and not file.proves_nothing and file.sha256 == sha256


def paper_is_kept(catalogue: Catalogue, contested: Collection[str], paper: Certificate | FireTest) -> bool:
    """Whether the evidence file of the material is kept as recorded, and of one kind and material (rules/contested.py)."""
    return is_file(catalogue.material_files.get(paper.file), paper.sha256) and paper.sha256 not in contested
