"""How a part stands on the plate: which poses there are, and what each of them costs."""
