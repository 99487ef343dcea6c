"""Who says a record's words, and what did it say before: signatures and commits, held against what it says now."""
