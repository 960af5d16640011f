"""One thing, one id: ids that lost their zeros, names in place of ids, two spellings of one thing.

``M-012`` and ``M-12`` may be one module or two; only the lead knows, and is asked once.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping, Sequence

from upkeep.plant.definition import near, quoted
from upkeep.said import Quoted, Value, said
from upkeep.sources.first_load.answered import Answers
from upkeep.sources.first_load.found import Question, ReadAs, Spot, Wrong
from upkeep.sources.first_load.wanted import plain


def twins_asked(spots: Mapping[str, Spot], known: Iterable[str], answers: Answers) -> Iterator[Question]:
    """A question for each id of the sheets that another one may stand for; ``known`` are those of the book."""
    first: dict[str, str] = {_bare(key): key for key in known}
    for key, spot in spots.items():
        other = first.setdefault(_bare(key), key)
        if other != key and key not in answers.same and other.casefold() != key.casefold():
            asked = said(
                "{spot}: is {key} the same thing as {other}? Then answer {other}; if both exist, answer {key}.",
                spot=spot.said, key=key, other=other,
            )  # fmt: skip
            yield Question(("same", key), asked, (other, key))


def _bare(key: str) -> str:
    """The id with its runs of figures apart, so that 1-12 and 11-2 stay two."""
    parts = re.findall(r"[a-z]+|\d+", key.casefold())
    return "-".join(part.lstrip("0") or "0" if part.isdigit() else part for part in parts)


class Known:
    """What can be named: ids with their titles, found by either."""

    def __init__(self, titles: Mapping[str, str], answers: Answers) -> None:
        self._titles, self._answers = titles, answers
        self._folded = {key.casefold(): key for key in titles}
        named: dict[str, list[str]] = {}
        for key, title in titles.items():
            named.setdefault(plain(title), []).append(key)
        self._named = named
        self._alike: dict[str, list[str]] = {}
        for key in titles:
            self._alike.setdefault(_bare(key), []).append(key)

    def meant(self, text: str, spot: Spot) -> tuple[str | None, ReadAs | Wrong | Question | None]:
        """The id a text means, and what there is to tell or ask about it."""
        told = self._answers.same.get(text, text)
        if told in self._titles:
            return told, None
        joined = "-".join(told.split())
        folded = self._folded.get(told.casefold()) or self._folded.get(joined.casefold())
        if folded is not None:
            return folded, ReadAs(spot, quoted(text), Quoted(folded))
        alike = self._alike.get(_bare(told), [])
        if alike:
            asked = said("{spot}: which one is {text}?", spot=spot.said, text=Quoted(text))
            return None, Question(("same", text), asked, tuple(alike))
        by_title = self._named.get(plain(told), [])
        if len(by_title) == 1:
            return by_title[0], ReadAs(spot, quoted(text), Quoted(by_title[0]))
        if by_title:
            asked = said("{spot}: several are called {text}. Which one is it?", spot=spot.said, text=Quoted(text))
            return None, Question(("same", text), asked, tuple(by_title))
        return None, Wrong(
            spot, quoted(text), said("an id or a title of the other sheets{near}", near=self._near(text))
        )

    def _near(self, text: str) -> Value:
        titles: Sequence[str] = [*self._titles, *self._titles.values()]
        return near(text, list(titles[:2000]))
