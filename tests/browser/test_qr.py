"""Is our QR code the one that the standard asks for? Against segno, an independent encoder of ISO/IEC 18004."""

import pytest
import segno
from playwright.sync_api import Page
from segno import consts

from tests.browser.bundles import SCRIPTS

# All that differ in kind: length field, version bits, block mixes, alignment patterns, and the largest that is used.
VERSIONS = (*range(1, 11), 14, 21, 25, 32, 40)
LEVELS = {"L": consts.ERROR_LEVEL_L, "M": consts.ERROR_LEVEL_M}
pytestmark = pytest.mark.browser


@pytest.fixture
def coder(page: Page) -> Page:
    page.goto("about:blank")
    page.add_script_tag(content=SCRIPTS.room("vehicles") + SCRIPTS.room("request"))
    return page


def longest(version: int, level: str) -> int:
    """Bytes that fill a code exactly: segno pads one byte otherwise than the standard says where room is left."""
    return consts.SYMBOL_CAPACITY[version][LEVELS[level]] // 8 - (2 if version < 10 else 3)


def text_of(length: int) -> str:
    return "".join(chr(32 + (7 * i + i // 90) % 95) for i in range(length))


@pytest.mark.parametrize("level", ["L", "M"])
def test_matrix_for_matrix(coder: Page, level: str) -> None:
    cases = [[text_of(longest(version, level)), version, version % 8] for version in VERSIONS]
    coded = coder.evaluate(
        "([cases, level]) => cases.map(([text, version, mask]) => spares.request.qrCode(text, { version, mask, level }).rows)",
        [cases, level],
    )
    for (text, version, mask), rows in zip(cases, coded, strict=True):
        code = segno.make(
            text.encode(),
            error=level,
            version=version,
            mask=mask,
            mode="byte",
            boost_error=False,
            micro=False,
        )
        assert [[bool(each) for each in row] for row in code.matrix] == rows, version


def test_a_letter_too_many_takes_the_next_version_and_at_last_none(coder: Page) -> None:
    told = coder.evaluate(
        "(texts) => texts.map((text) => { const code = spares.request.qrCode(text, { most: 25 }); return code && [code.version, code.level]; })",
        [
            text_of(longest(25, "M")),
            text_of(longest(25, "L")),
            text_of(longest(25, "L") + 1),
            "",
            "ø" * 7,
            "ø" * 8,
        ],
    )
    assert told == [[25, "M"], [25, "L"], None, [1, "M"], [1, "M"], [2, "M"]]
