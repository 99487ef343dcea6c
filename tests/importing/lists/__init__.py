"""Some ninety lists of invented depots, written by somebody who had not seen the program, and what they expect of it.

`written_to()` gives them by file; `otherwise.py` tells where the program does something else that they allow, and why.
"""

import re
from pathlib import Path

from tests.importing.lists import (
    days,
    formulas,
    habits,
    hostile,
    layout,
    letters,
    look_alikes,
    making,
    meaning,
)

MODULES = (letters, layout, formulas, days, look_alikes, meaning, hostile, habits)


def written_to(folder):
    """Write all files into the folder, and give what is expected of each, by its name."""
    making.FILES.at = folder
    making.CASES.clear()
    for module in MODULES:
        for story in module.STORIES:
            story()
    return {each["file"]: each for each in making.CASES}


def _names():
    """The files that a case is told of, without writing any: pytest asks for them in every process."""
    sources = (Path(module.__file__).read_text("utf-8") for module in MODULES)
    return sorted({name for source in sources for name in re.findall(r'"(\d\d_[^"/]+\.(?:csv|xlsx|txt))"', source)})


NAMES = _names()
