"""Which spoilt rules say the same as the true ones, so that no test can tell them apart?"""

_NO_NAME = "a text without the line names no material, and neither does an empty name"
_NO_PLACE = "a fleet that is unknown has no place"
_NOT_NEEDED = "no event needs that it was sent or refused before"

ALIKE: dict[tuple[str, str, str], str] = {
    ("basis.py", "values.get('material') or ''", "values.get('material')"): _NO_NAME,
    ("binding.py", "fleet and place", "place"): _NO_PLACE,
    ("binding.py", "fleet is None or place is None", "place is None"): _NO_PLACE,
    ("fire/results.py", "0.0", "-1.0"): "whatever is weighed weighs more than nothing",
    ("history.py", "0", "-1"): "of one, the first is the last",
    **{
        ("order.py", "{SentForAcceptance, AcceptanceGiven, AcceptanceRefused, DocumentsComplete}", kept): _NOT_NEEDED
        for kept in (
            "{AcceptanceGiven, AcceptanceRefused, DocumentsComplete}",
            "{SentForAcceptance, AcceptanceGiven, DocumentsComplete}",
        )
    },
}
"""File below generator/rules, what stands there, what stands there instead → the reason."""
