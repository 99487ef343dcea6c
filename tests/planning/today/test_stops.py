"""What people write of a request's urgency, by somebody who reads it: whether they say that nothing stops."""

import pytest

from generator.planning.today.stops import says_nothing_stops

NOTHING = (
    "Nothing stops, but two desks were wet inside this year.", "nothing", "-", "Nothing, only an annoyance", "NOTHING STOPS", "Nothing really stops; it looks bad", "No stoppage, but complaints",
    "None; passengers complain", "nothing at all stops", "No, but it rattles", "It stops nothing.", "Nothing fails - it only looks bad",
    "Nichts steht still, aber zwei Tische waren nass.", "Nichts.", "Es steht nichts still; es klappert.", "Kein Stillstand, nur Ärger", "Keine, aber es klappert", "Es fällt nichts aus, nur unschön",
    "nichts fällt aus", "Nein, aber unbequem",
    "Intet står stille, men to borde var våde.", "Ingenting stopper", "Der står intet stille; det rasler", "Intet stop, kun klager", "Der sker ingenting", "Nej, men det rasler", "Ingen driftsstop, kun gener",
)  # fmt: skip
SOMETHING = (
    "Car 21 may not be parked on a slope.", "Nothing works without it", "Nothing runs on line 4", "No doors can be locked", "Nothing but the whole train", "None of the doors close", "Nobody can park the car",
    "No. 3 car stays in the yard", "Nothing stops until the second one breaks, then the car stays in", "Nothing stops unless it freezes", "The set; nothing stops else", "Without it, the car stays in the yard",
    "Heating is turned up or off by strangers; the set comes in and a fitter sets it again.", "Notching stops",
    "Keine Tür schließt", "Nichts geht mehr", "Niemand kann den Wagen abstellen", "Ohne ihn steht der Wagen", "Nichts steht still, bis der zweite bricht", "Kein Zug fährt", "Nichts als Stillstand",
    "Intet tog kører", "Ingen døre lukker", "Uden den står vognen stille", "Intet virker", "Intet står stille, medmindre det fryser", "Ingen kan parkere vognen",
)  # fmt: skip


@pytest.mark.parametrize("text", NOTHING)
def test_who_says_that_nothing_stops_is_believed(text):
    assert says_nothing_stops(text)


@pytest.mark.parametrize("text", SOMETHING)
def test_what_only_begins_alike_is_a_stop(text):
    assert not says_nothing_stops(text)


def test_no_text_takes_long():
    assert not says_nothing_stops("nothing " * 5000 + "x")
