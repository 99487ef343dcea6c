"""The commands read these figures too, and load neither numpy nor scipy for them."""

import subprocess
import sys

PROGRAM = """
import sys
from generator.planning.holding.comparison import compared
from generator.planning.holding.curve import Observation
pieces = [Observation(days=day, failed=day < 30) for day in range(60)]
compared(pieces, pieces[5:])
print(*sys.modules)
"""


def test_no_library_of_numbers_is_loaded():
    run = subprocess.run([sys.executable, "-c", PROGRAM], capture_output=True, text=True, check=True)
    assert "generator.planning.holding.gamma" in run.stdout.split()
    assert {"numpy", "scipy"} & set(run.stdout.split()) == set()
