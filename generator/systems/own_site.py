"""Where are the pages, theme, styles and scripts that spares brings along, for a depot that has none of its own?"""

from pathlib import Path

_PACKAGE = Path(__file__).resolve().parents[1]
# In a wheel they lie inside the package, in a checkout beside it.
_HOME = _PACKAGE if (_PACKAGE / "site_src").is_dir() else _PACKAGE.parent

SITE = _HOME / "site_src"
"""The folder of hand-written pages, theme/ and assets/."""
SETTINGS = _HOME / "mkdocs.yml"
"""How a site is put together where the depot's own mkdocs.yml does not say otherwise."""
SCRIPTS = Path("assets") / "js"


def scripts_for(catalogue: Path) -> Path:
    """The browser's scripts of the site_src/ beside a catalogue where there is one, else ours."""
    own = catalogue.resolve().parent / "site_src" / SCRIPTS
    return own if own.is_dir() else SITE / SCRIPTS
