"""What is to be said, not yet in a language: the English sentence with named values, and the values.

Whoever knows a fact says it as a :class:`Said`; only ``upkeep.wording`` turns it into text, in the language and the
zone of the one who reads.  A value is data: a whole number, a day, a moment, an id, what a person wrote, another
``Said``.  It is never a ready sentence, for that would stay English in every language.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import field
from datetime import date, datetime
from decimal import Decimal
from enum import Enum
from functools import lru_cache
from pathlib import PurePath
from typing import Protocol

from upkeep.frozen import frozen


class Clock(Protocol):
    """A zone as a sentence needs it; ``upkeep.units.instants.Zone`` is one."""

    def show(self, instant: datetime) -> str:
        """The instant as people there write it."""

    def minute(self, instant: datetime) -> str:
        """The instant to the minute."""

    def day(self, instant: datetime) -> date:
        """The calendar day on the wall at an instant."""


class Shown(Protocol):
    """A value that knows how it looks; the voice brings the language and the zone."""

    def shown(self, voice: Voice) -> str:
        """The text of the value."""


@frozen
class Said:
    """A sentence, or a part of one: its English template and the values of the names in it.

    ``plural`` is the template for any number but 1, chosen by the value ``n``; None where there is no such choice.
    ``context`` tells a word from the same English word with another meaning, where other languages have two.
    Made by :func:`said`, :func:`said_many`, :func:`said_as` and :func:`term`, which the catalogues of other languages
    are collected from.
    """

    template: str
    values: tuple[tuple[str, Value], ...] = ()
    plural: str | None = None
    context: str | None = None

    def __str__(self) -> str:
        """The sentence in plain English, each moment in the zone it comes with: for logs, and where nobody reads."""
        return Voice().text(self)


Value = str | int | date | PurePath | Said | Shown
"""What a sentence may name: a text or path shown as it is, a number with its thousands grouped, a day as ISO 8601."""


def said(template: str, /, **values: Value) -> Said:
    """The sentence of a template, ``said("{item} is not in {place}.", item=..., place=...)``."""
    return Said(template, tuple(sorted(values.items(), key=_name))) if values else _plain(template)


@lru_cache(maxsize=1024)
def _plain(template: str, context: str | None = None) -> Said:
    """A sentence without values; a reader of entries names what it expects some five times a line."""
    return Said(template, context=context)


def said_many(one: str, many: str, /, *, n: int, **values: Value) -> Said:
    """The sentence for a number of things, ``said_many("{n} line", "{n} lines", n=...)``; `one` is for 1 and -1."""
    return Said(one, tuple(sorted({**values, "n": n}.items(), key=_name)), many)


def said_as(context: str, template: str, /) -> Said:
    """A word that means two things in English, and which of them is meant: ``said_as("button", "Count")``."""
    return _plain(template, context)


def term(word: str, context: str | None = None) -> Said:
    """A word of the program that entries, tables and ``--json`` have too: a state, a kind, a role, a verdict.

    There it stays English; on a page it is read in the language of the reader.  The catalogues collect such words from
    the enumerations and tables they stand in; `context` names the list, "state", where a translator needs to know it.
    A word that is none of the program's own stays as it is.
    """
    # An empty template would bring the head of a catalogue, and no word of the program has a brace in it.
    return _plain(str(word), context) if word and "{" not in word and "}" not in word else said("{word}", word=word)


def _name(named: tuple[str, Value]) -> str:
    return named[0]


class Voice:
    """Turns what is to be said into text: here in English; the voices of ``upkeep.wording`` speak to a reader."""

    zone: Clock | None = None
    """The reader's zone; None leaves each moment in the zone it comes with."""

    units: Mapping[str, tuple[str, ...]] = {}
    """The units in which the reader reads lengths, pressures and forces; what is not in it is read as it is stated."""

    def text(self, sentence: Said) -> str:
        """The sentence with its values in their places."""
        return self.template(sentence).format_map({name: self.value(value) for name, value in sentence.values})

    def template(self, sentence: Said) -> str:
        """The template in this voice's language, of the number that is asked for."""
        return sentence.template if sentence.plural is None or number_of(sentence) == 1 else sentence.plural

    def grouped(self, figures: str) -> str:
        """Figures whose thousands are grouped by commas, as this voice's reader is shown them."""
        return figures

    def value(self, value: Value) -> str:
        """One value as this voice's reader is shown it."""
        if isinstance(value, str | PurePath):
            return str(value)
        if isinstance(value, int):
            return self.grouped(f"{value:,}")
        if isinstance(value, Said):
            return self.text(value)
        if isinstance(value, date):
            return value.isoformat()
        return value.shown(self)


def number_of(sentence: Said) -> int:
    """The number that chooses between the two templates of a sentence, without its sign."""
    number = dict(sentence.values)["n"]
    assert isinstance(number, int)
    return abs(number)


@frozen
class Quoted:
    """A word or text as somebody wrote it, shown in quotes, what does not print shown as an escape."""

    text: str

    def shown(self, voice: Voice) -> str:
        """In quotes."""
        return repr(self.text)


@frozen
class Numeral:
    """A whole number that names something (an entry, a line of a file, a year): its thousands are not grouped."""

    number: int

    def shown(self, voice: Voice) -> str:
        """In bare digits."""
        return str(self.number)


@frozen
class Figure:
    """A number, and the form it is shown in (Python's: ``+.3f``, ``,.0f``); without one as it was measured or given."""

    number: float
    form: str = ""

    def shown(self, voice: Voice) -> str:
        """In its form."""
        return voice.grouped(format(self.number, self.form) if self.form else written(self.number))


def written(number: float) -> str:
    """A number as somebody wrote it: all its decimals and no more, thousands grouped, never in powers of ten."""
    text = f"{Decimal(repr(float(number))):,f}"
    return text.rstrip("0").rstrip(".") if "." in text else text


@frozen
class Clause:
    """A sentence that stands inside another one, without its full stop."""

    sentence: Said

    def shown(self, voice: Voice) -> str:
        """Without its full stop."""
        return voice.text(self.sentence).rstrip(".")


@frozen
class Capitals:
    """A value in capitals, where a word has to be seen first."""

    word: Value

    def shown(self, voice: Voice) -> str:
        """In capitals."""
        return voice.value(self.word).upper()


@frozen
class Begun:
    """A value with which a sentence begins."""

    value: Value

    def shown(self, voice: Voice) -> str:
        """With a capital."""
        shown = voice.value(self.value)
        return shown[:1].upper() + shown[1:]


@frozen
class Moment:
    """An instant (UTC), shown in the reader's zone; in `zone`, that of the plant, to a reader who has none."""

    at: datetime
    zone: Clock = field(compare=False)
    to_minute: bool = False

    def shown(self, voice: Voice) -> str:
        """On the wall clock of the reader."""
        zone = voice.zone or self.zone
        return zone.minute(self.at) if self.to_minute else zone.show(self.at)


def minute(at: datetime, zone: Clock) -> Moment:
    """An instant (UTC) to the minute, in the reader's zone as :class:`Moment` says."""
    return Moment(at, zone, to_minute=True)


@frozen
class DayOf:
    """The day on the wall at an instant (UTC), in the reader's zone as :class:`Moment` says."""

    at: datetime
    zone: Clock = field(compare=False)

    def shown(self, voice: Voice) -> str:
        """As ISO 8601 writes it."""
        return (voice.zone or self.zone).day(self.at).isoformat()


@frozen
class Weekday:
    """A day with the name of its weekday, ``Mon 2026-03-02``."""

    day: date

    def shown(self, voice: Voice) -> str:
        """The name in the language of the voice."""
        return f"{voice.value(DayName(self.day))} {self.day.isoformat()}"


@frozen
class DayName:
    """The name of a day's weekday alone, ``Mon``."""

    day: date

    def shown(self, voice: Voice) -> str:
        """In the language of the voice."""
        return voice.text(_weekdays()[self.day.weekday()])


def _weekdays() -> tuple[Said, ...]:
    return said("Mon"), said("Tue"), said("Wed"), said("Thu"), said("Fri"), said("Sat"), said("Sun")


class Join(Enum):
    """What stands between the parts of a row of values."""

    COMMA = ", "
    SEMICOLON = "; "
    SPACE = " "
    NEW_LINE = "\n"
    OR = "or"
    AND = "and"
    COMMA_AND = ", and"


@frozen
class Series:
    """Several values in a row; none at all is shown as nothing."""

    values: tuple[Value, ...]
    join: Join

    def shown(self, voice: Voice) -> str:
        """One after the other, joined."""
        texts = [voice.value(value) for value in self.values]
        if self.join in (Join.OR, Join.COMMA_AND) and len(texts) > 2:
            texts = [Join.COMMA.value.join(texts[:-1]), texts[-1]]
        if self.join not in (Join.OR, Join.AND, Join.COMMA_AND) or not texts:
            return self.join.value.join(texts)
        joined = texts[0]
        for text in texts[1:]:
            joined = voice.text(_either(joined, text) if self.join is Join.OR else _both(joined, text))
        return joined


def _either(before: str, after: str) -> Said:
    return said("{before} or {after}", before=before, after=after)


def _both(before: str, after: str) -> Said:
    return said("{before} and {after}", before=before, after=after)


def listed(values: Iterable[Value], join: Join = Join.COMMA) -> Series:
    """Values one beside the other: ``a, b, c``."""
    return Series(tuple(values), join)


def either(values: Iterable[Value]) -> Series:
    """Values of which one is meant: ``a, b or c``."""
    return Series(tuple(values), Join.OR)


def all_of(values: Iterable[Value]) -> Series:
    """Values that are all meant: ``a and b and c``."""
    return Series(tuple(values), Join.AND)


def enumerated(values: Iterable[Value]) -> Series:
    """Values that are all meant, as in running text: ``a, b and c``."""
    return Series(tuple(values), Join.COMMA_AND)


def in_turn(*parts: Said | None) -> Said:
    """Sentences that follow each other; None where one has nothing to say."""
    return said("{sentences}", sentences=Series(tuple(part for part in parts if part), Join.SPACE))


def in_lines(parts: Iterable[Said]) -> Said:
    """Sentences below each other."""
    return said("{lines}", lines=Series(tuple(parts), Join.NEW_LINE))
