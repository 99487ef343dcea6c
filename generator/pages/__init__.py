"""Verdicts → Markdown, pictures and data of the site; templates only place words."""
