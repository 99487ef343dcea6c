"""Records, facts and a day → verdicts with their reasons; no disk, clock or browser."""
