"""The browser's scripts as a built site has them."""

from pathlib import Path

from generator.finder.scripts import PLACE, read_scripts

SCRIPTS = read_scripts(Path(__file__).parents[2] / "site_src" / PLACE)


def write_bundles(site: Path) -> None:
    """Every bundle below a site."""
    (site / PLACE).mkdir(parents=True, exist_ok=True)
    for name in SCRIPTS.bundles:
        (site / PLACE / f"{name}.js").write_text(SCRIPTS.bundle(name), encoding="utf-8")
