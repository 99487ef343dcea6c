"""What the records of a catalogue said before: by git, by the store, by the site built before."""
