"""A key of the words that nobody has written; light, so that the command line knows it without reading any words."""

from dataclasses import dataclass


class LackingWordsError(KeyError):
    """No words stand under a dotted key, not even in English, which is what the other languages are measured by."""

    def __init__(self, key: str) -> None:
        super().__init__(key)
        self.key = key


@dataclass(frozen=True, slots=True, kw_only=True)
class LackingWords:
    """Where they should stand, and where another language has them."""

    key: str
    file: str | None
    """The English words file, such as 'part/words/en.yml'; None where no file has words of that kind."""
    had_by: str | None = None
    """Such as 'part/words/de.yml:12'."""

    def __str__(self) -> str:
        if self.file is None:
            return f"no words file has '{self.key}', which is asked for"
        return f"words file {self.file} lacks '{self.key}'" + (f" ({self.had_by} has it)" if self.had_by else ", which is asked for")
