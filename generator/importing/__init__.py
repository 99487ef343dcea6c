"""A depot's own list, such as a spreadsheet → the folders of its parts, row by row, or why a row is refused."""
