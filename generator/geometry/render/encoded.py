"""How a picture is written as bytes."""

from io import BytesIO

import numpy as np
from numpy.typing import NDArray
from PIL import Image

__all__ = ["encoded"]


def encoded(image: NDArray[np.uint8], *, quality: int = 88) -> bytes:
    """A picture as WebP, without date or metadata: the same bytes on every run.

    image: (h, w, 3). quality: 1 to 100; 88 shows no rings around the fine lines.
    Raises ValueError for other shapes.
    """
    if image.ndim != 3 or image.shape[2] != 3 or image.dtype != np.uint8:
        raise ValueError(f"a picture is (h, w, 3) bytes, not {image.shape} {image.dtype}")
    written = BytesIO()
    Image.fromarray(image).save(written, "WEBP", quality=quality, method=4, exact=False)
    return written.getvalue()
