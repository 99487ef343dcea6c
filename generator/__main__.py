"""`python -m generator` is `spares`, where the command itself is not on the path."""

from generator.edge.cli import main

if __name__ == "__main__":
    raise SystemExit(main())
