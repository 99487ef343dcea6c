"""Which spoilt rules say the same as the true ones, and why no test can tell them apart?"""

ALIKE: dict[tuple[str, str, str], str] = {}
"""File below generator/rules, what stands there, what stands there instead → the reason."""
