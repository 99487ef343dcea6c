"""What did people look for in vain, most frequent first, and which words would have helped them?"""

import re
from collections import Counter, defaultdict
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date

from generator.records.base import as_compared
from generator.records.catalogue import Catalogue
from generator.records.depot import Words
from generator.records.queries import LookedFor, Queries

_WORD = re.compile(r"[^\W\d_]{3,40}")
# A shorter word is near to too many others; digits are numbers and sizes (common practice, no source).
_SHORT = 4
_LONG = 8
_MOST_WORDS = 3
# Of a finder's record, what is no text that anybody wrote.
_NO_WORDS = frozenset({"kind", "page", "thumb", "grounds", "over"})


@dataclass(frozen=True, slots=True, kw_only=True)
class Sought:
    """A text that found nothing, with all its writings counted together."""

    text: str
    """As it was written most often."""
    times: int
    hand_overs: int
    last: date
    requests: tuple[str, ...] = ()
    """The requests that were made on a tablet on the day on which it was looked for there."""


@dataclass(frozen=True, slots=True)
class Vocabulary:
    """Words as compared: those of parts, requests and words.yml, and those in which people ask."""

    catalogue: frozenset[str]
    asked: frozenset[str]

    @property
    def all(self) -> frozenset[str]:
        return self.catalogue | self.asked


@dataclass(frozen=True, slots=True, kw_only=True)
class ProposedWord:
    """A line for words.yml, and why."""

    words: tuple[str, str]
    """What people write, and what the catalogue has."""
    sought: Sought
    request: str | None = None


def sought(queries: Iterable[Queries]) -> tuple[Sought, ...]:
    """Texts in which only case and white space differ together, most frequent first, the latest of them before others."""
    groups: defaultdict[str, list[tuple[Queries, LookedFor]]] = defaultdict(list)
    for each in queries:
        for entry in each.looked_for:
            groups[as_compared(entry.text)].append((each, entry))
    return tuple(sorted(map(_together, groups.values()), key=lambda each: (-each.times, -each.last.toordinal(), each.text)))


def _together(group: list[tuple[Queries, LookedFor]]) -> Sought:
    written: Counter[str] = Counter()
    for _, entry in group:
        written[" ".join(entry.text.split())] += entry.times
    text, _ = min(written.items(), key=lambda each: (-each[1], each[0]))
    requests = {each.with_request for each, entry in group if each.with_request and entry.last == each.collected}
    return Sought(
        text=text,
        times=written.total(),
        hand_overs=len({id(each) for each, _ in group}),
        last=max(entry.last for _, entry in group),
        requests=tuple(sorted(requests)),
    )


def spellings(vain: Iterable[Sought], has: Vocabulary) -> tuple[ProposedWord, ...]:
    """Words that nothing has, each with the one word of the catalogue that is near to it.

    Where two words are as near, nothing is proposed.
    """
    found: dict[str, ProposedWord] = {}
    for each in vain:
        for word in _words_of(each.text):
            near = _near(word, has) if word not in found else None
            if near:
                found[word] = ProposedWord(words=(word, near), sought=each)
    return tuple(found.values())


def _words_of(text: str) -> list[str]:
    return list(dict.fromkeys(_WORD.findall(as_compared(text))))


def _near(word: str, has: Vocabulary) -> str | None:
    """The word of the catalogue a slip of the fingers away, two slips in a long one; None where the word itself is known."""
    if len(word) < _SHORT or word in has.all:
        return None
    most = 2 if len(word) >= _LONG else 1
    slips = [(count, each) for each in has.catalogue if (count := _slips(word, each, most)) <= most]
    best = sorted(slips)[:2]
    if not best or (len(best) > 1 and best[0][0] == best[1][0]):
        return None
    return best[0][1]


def _slips(one: str, other: str, most: int) -> int:
    """Letters left out, put in, exchanged or swapped with their neighbour, as optimal string alignment counts them."""
    if abs(len(one) - len(other)) > most:
        return most + 1
    before: list[int] = []
    row = list(range(len(other) + 1))
    for i, letter in enumerate(one, 1):
        earlier, before, row = before, row, [i]
        for j, wanted in enumerate(other, 1):
            cost = min(before[j] + 1, row[j - 1] + 1, before[j - 1] + (letter != wanted))
            if i > 1 and j > 1 and letter == other[j - 2] and one[i - 2] == wanted:
                cost = min(cost, earlier[j - 2] + 1)
            row.append(cost)
        if min(row) > most:
            return most + 1
    return row[-1]


def synonyms(vain: Iterable[Sought], has: Vocabulary, catalogue: Catalogue) -> tuple[ProposedWord, ...]:
    """Texts with a word that nothing has, and the name of what was asked for on the same tablet on the same day.

    A word that is a slip of the fingers is none of them; a request that a part answers stands for that part.
    """
    grouped = [{as_compared(word) for word in group} for group in catalogue.words.synonyms]
    found = []
    for each in vain:
        unknown = [word for word in _words_of(each.text) if word not in has.all and not _near(word, has)]
        if not unknown or len(each.text.split()) > _MOST_WORDS or not _is_name(each.text):
            continue
        for request in each.requests:
            name = _meant(request, catalogue)
            pair = {as_compared(each.text), as_compared(name)} if name else set()
            if name and len(pair) > 1 and not any(pair <= group for group in grouped):
                found.append(ProposedWord(words=(name, each.text), sought=each, request=request))
    return tuple(found)


def _is_name(text: str) -> bool:
    """A name as words.yml takes it, not a size or a number."""
    return len(text) <= 80 and not any(sign.isdigit() for sign in text)


def _meant(request: str, catalogue: Catalogue) -> str | None:
    asked = catalogue.requests.get(request)
    if asked is None:
        return None
    folder = catalogue.folder(asked.answered_by) if asked.answered_by else None
    return folder.name if folder else asked.name


def vocabulary(records: Iterable[Mapping[str, object]], words: Words, spoken: object) -> Vocabulary:
    """What the finder's records and the depot's words hold; `spoken`: the words in which people ask."""
    said = [value for record in records for key, value in record.items() if key not in _NO_WORDS]
    catalogue = _all_words([said, words.synonyms, list(words.spellings.values())])
    return Vocabulary(catalogue, _all_words([spoken, list(words.spellings)], keys=True))


def _all_words(value: object, *, keys: bool = False) -> frozenset[str]:
    return frozenset(word for text in _texts(value, keys=keys) for word in _words_of(text))


def _texts(value: object, *, keys: bool) -> Iterable[str]:
    """Every text inside; `keys`: those of mappings too, which are words in the lists of a language."""
    if isinstance(value, str):
        yield value
    elif isinstance(value, Mapping):
        yield from (str(key) for key in value if keys)
        yield from (text for each in value.values() for text in _texts(each, keys=keys))
    elif isinstance(value, list | tuple):
        yield from (text for each in value for text in _texts(each, keys=keys))
