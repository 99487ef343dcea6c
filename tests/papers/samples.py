"""Labels that the tests print: one as a depot has many, one as long as records permit."""

from generator.papers.kinds import LabelText

ADDRESS = "https://parts.tarnvale.example/parts/{}.html#batch={}"


def label(number="TV-0417", revision="C", batch="B-0147", name="Window-latch knob", code=None):
    return LabelText(number=number, revision=revision, batch=batch, name=name, code=code or ADDRESS.format(number, batch))


PLAIN = label(code="TV-0417 C B-0147")
LINKED = label()
LONGEST = label(number="TV-0123.456-789.ABC-DEFG", revision="AB12", batch="BBBB-12345678", name=("Wire " * 16)[:80])
UNBROKEN = label(number="ABCDEFGHIJKLMNOPQRSTUVWX", revision="ZZZZ", batch="BBBB-12345678", name="W" * 80)
