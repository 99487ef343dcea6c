"""The line by which `spares import` begins what a list told of an approval that it could not take over."""

# As it begins in each language (pages/importing/words, `importing.unconfirmed`): what was imported in one is found in all.
BEGINNINGS = ("# Not confirmed by anybody: ", "# Von niemandem bestätigt: ", "# Ikke bekræftet af nogen: ")


def told_in(text: str) -> int | None:
    """The number of that line, from 1; None where there is none."""
    if not any(beginning in text for beginning in BEGINNINGS):
        return None  # nearly every record
    lines = enumerate(text.splitlines(), start=1)
    return next((number for number, line in lines if line.startswith(BEGINNINGS)), None)
