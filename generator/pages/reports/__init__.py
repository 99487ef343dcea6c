"""What happened in a month: a page for each, the list of them, and the same as tables for a paper or a spreadsheet."""
