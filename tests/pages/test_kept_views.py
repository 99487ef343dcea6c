"""Are the views of a part read once for its sheet and its silhouettes, and anew where they are others?"""

import json

from generator.geometry.drawing.views import views_of as drawn_views
from generator.geometry.measured import Kept
from generator.pages.kept_views import views_of
from generator.pages.part.silhouettes import kept_silhouettes
from tests.geometry.solids import box


def test_views_are_read_once_for_all_that_is_written_of_them():
    read = []
    content = json.dumps(drawn_views(box()).to_json()).encode()

    def reader(name: str):
        return lambda: read.append(name) or content

    kept, other = Kept("kept views: one", reader("one")), Kept("kept views: other", reader("other"))
    assert views_of(kept) == views_of(kept)
    assert kept_silhouettes("P-1", "Box", kept).read().startswith(b"globalThis.sparesSilhouettes=")
    views_of(other)
    assert read == ["one", "other"]
