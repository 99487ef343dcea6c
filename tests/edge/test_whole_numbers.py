"""Which numbers on a written page stay in one line, and what of the page stays as it was?"""

import re

import pytest

from generator.edge.site.whole_numbers import with_whole_numbers

WHOLE = '<span class="unbroken">{}</span>'


@pytest.mark.parametrize(
    ("html", "numbers"),
    [
        ("<bdi>Stopped: B-0131; B-0161. Lot L-0009</bdi>", ["B-0131", "B-0161", "L-0009"]),
        ("<b>TV-0417</b> Latch", ["TV-0417"]),
        ("<p>Recall RC-0001 of letter TR-24-071</p>", ["RC-0001", "TR-24-071"]),
        ('<h2 id="b-0161">Batch B-0161</h2>', ["B-0161"]),
        ('<p class="shelf__line">8 of B-0161 on 3 Nov, rack A-12 <strong class="shelf__no" hidden>Not</strong> beside TV-0112</p>', ["B-0161", "A-12", "TV-0112"]),
        ('<p class="shelf__stopped">B-0152</p><p class="shelf__beside">TV-0112</p>', ["B-0152", "TV-0112"]),
        ('<span class="board__line">Release of B-0152</span><span class="board__more"><bdi>TV-0112 and B-0161</bdi>, B-0150</span> B-0151', ["B-0152", "TV-0112", "B-0161", "B-0150"]),
        ('<p class="turn__title">B-0161</p><span class="chip">B-0161</span>', []),
        ("<p>EN 45545-2, 2026-11-28, 401-412, AB-, x-1</p>", []),
        ('<a href="TV-0417.html" class="button">TV-0417 Latch</a>', []),  # may be laid out as a row of boxes
        ('<p title="B-0161">none</p><title>B-0161</title><script>"B-0161"</script>', []),
        ("<svg><text>B-0161</text></svg><option>B-0161</option><textarea>B-0161</textarea><header>B-0161</header>", []),
    ],
)
def test_numbers_of_running_text_are_kept_whole(html, numbers):
    told = with_whole_numbers(html)
    assert re.findall(r'<span class="unbroken">([^<]*)</span>', told) == numbers
    assert re.sub(r'<span class="unbroken">([^<]*)</span>', r"\1", told) == html  # a copied text is as it was
