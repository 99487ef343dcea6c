"""Which package is not installed, where a library cannot be imported?"""

from types import MappingProxyType
from typing import Final

# What is imported, and what pip calls it.
PACKAGES: Final = MappingProxyType({
    "PIL": "pillow",
    "cascadio": "cascadio",
    "cryptography": "cryptography",
    "filelock": "filelock",
    "jinja2": "jinja2",
    "manifold3d": "manifold3d",
    "markdown": "markdown",
    "markupsafe": "markupsafe",
    "material": "mkdocs-material",
    "mkdocs": "mkdocs",
    "nh3": "nh3",
    "numpy": "numpy",
    "openpyxl": "openpyxl",
    "py_mini_racer": "mini-racer",
    "pydantic": "pydantic",
    "pydantic_core": "pydantic-core",
    "rich": "rich",
    "scipy": "scipy",
    "segno": "segno",
    "trimesh": "trimesh",
    "typst": "typst",
    "yaml": "pyyaml",
})  # fmt: skip


def lacking_package(error: ModuleNotFoundError) -> str | None:
    """As pip calls it; None where what cannot be found is none of the libraries that are installed with the program."""
    return PACKAGES.get((error.name or "").partition(".")[0])
