"""Which spoilt rules say the same as the true ones, so that no test can tell them apart?"""

_NO_NAME = "a text without the line names no material, and neither does an empty name"
_ANSWERED = "where it says no it is answered, so that it is never among the open ones"
_NO_PLACE = "a fleet that is unknown has no place"

ALIKE: dict[tuple[str, str, str], str] = {
    ("basis.py", "values.get('material') or ''", "values.get('material')"): _NO_NAME,
    ("screening.py", "'identical_function' in open_questions", "False"): _ANSWERED,
    ("screening.py", "'identical_function'", "'?'"): _ANSWERED,
    ("screening.py", "1", "2"): _ANSWERED,
    ("screening.py", "1", "0"): _ANSWERED,
    ("binding.py", "fleet and place", "place"): _NO_PLACE,
    ("binding.py", "fleet is None or place is None", "place is None"): _NO_PLACE,
}
"""File below generator/rules, what stands there, what stands there instead → the reason."""
