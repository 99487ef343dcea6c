"""What the specialist does next, in words: told.py for the command and the page, page.py, chart_svg.py."""
