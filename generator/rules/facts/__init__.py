"""The facts that a judgement rests on, drawn from the records by subject."""
