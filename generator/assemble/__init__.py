"""The whole way: records → facts → verdicts → pages, and what hangs between its steps."""
