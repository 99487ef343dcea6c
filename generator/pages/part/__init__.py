"""The page of a part, its documents, and the data that its verdicts are judged anew from."""
