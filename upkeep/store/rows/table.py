"""A table declared once: the named row it holds, and beside it what a type cannot say."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from functools import cached_property
from operator import attrgetter
from types import NoneType
from typing import Any, Generic, NamedTuple, TypeVar, get_args, get_type_hints

R = TypeVar("R", bound=NamedTuple)
"""A named row."""

R_co = TypeVar("R_co", bound=NamedTuple, covariant=True)

_STORED: Mapping[type, str] = {str: "TEXT", int: "INTEGER", float: "REAL"}


@dataclass(frozen=True)
class Table(Generic[R_co]):
    """One table of a book.  Columns, their types and which may be empty are those of the fields of ``row``.

    ``key`` are the columns that tell its rows apart.  ``entry`` is the column with the number of the entry a row
    comes from; None: there is none.  ``entries`` are all columns with the number of an entry, ``items`` those with the
    id of an item that other tools may follow.  ``allowed`` are the
    values a column is limited to.  ``indexes`` are their columns by name.  ``numbered`` gives rows a number ``id``
    beside their fields, which other tables and indexes name them by.  A table without such a number of its own
    (``without_rowid``) begins with the columns of its key: of any other, SQLite 3.40 reports NULL values that are not
    there (``PRAGMA integrity_check``).
    """

    name: str
    row: type[R_co]
    key: tuple[str, ...]
    entry: str | None = "entry"
    entries: tuple[str, ...] = ("entry",)
    allowed: Mapping[str, Sequence[str]] = field(default_factory=dict)
    indexes: Mapping[str, str] = field(default_factory=dict)
    numbered: bool = False
    without_rowid: bool = False
    items: tuple[str, ...] = ()

    def __post_init__(self) -> None:
        assert not self.without_rowid or self.key == self.row._fields[: len(self.key)], self.name

    @property
    def columns(self) -> tuple[str, ...]:
        """The names of the columns of a row, in order."""
        return self.row._fields

    @cached_property
    def named(self) -> str:
        """The columns of a row as SQL lists them."""
        return ", ".join(self.columns)

    @cached_property
    def types(self) -> Mapping[str, str]:
        """The columns of a row with the type SQL knows each by."""
        return {name: _stored(kind) for name, kind in get_type_hints(self.row).items()}

    @cached_property
    def typed(self) -> str:
        """The columns with their types, as CREATE TABLE declares them."""
        return ", ".join(f"{name} {kind}" for name, kind in self.types.items())

    @cached_property
    def insert(self) -> str:
        """The INSERT of one row, with a mark for each column in the order of the row's fields."""
        return f"INSERT INTO {self.name} ({self.named}) VALUES ({', '.join('?' * len(self.columns))})"

    @cached_property
    def whole(self) -> str:
        """The SQL that reads all rows as they stand in the table itself, past every index, in order of their key."""
        return f"SELECT {self.named} FROM {self.name} NOT INDEXED ORDER BY {', '.join(self.key)}"

    @cached_property
    def key_of(self) -> Callable[[NamedTuple], tuple[Any, ...]]:
        """Gives what tells a row apart from all others of the table, to sort by."""
        values = attrgetter(*self.key)  # a bare value, where the key is one column
        return values if len(self.key) > 1 else lambda row: (values(row),)

    def entry_of(self, row: NamedTuple) -> int | None:
        """The number of the entry a row comes from; None where the table, or this row, names none."""
        number: int | None = getattr(row, self.entry) if self.entry else None
        return number

    @property
    def create(self) -> str:
        """The SQL that makes the table and its indexes."""
        columns = ["id INTEGER PRIMARY KEY"] if self.numbered else []
        columns += [self._column(name, kind) for name, kind in get_type_hints(self.row).items()]
        if len(self.key) > 1:
            columns.append(f"PRIMARY KEY ({', '.join(self.key)})")
        made_of = ",\n    ".join(columns)
        rows = "STRICT, WITHOUT ROWID" if self.without_rowid else "STRICT"
        indexes = (f"CREATE INDEX {name} ON {self.name} {on};\n" for name, on in self.indexes.items())
        return f"CREATE TABLE {self.name} (\n    {made_of}\n) {rows};\n{''.join(indexes)}"

    def _column(self, name: str, kind: type) -> str:
        alone = self.key == (name,)
        said = [name, _stored(kind)]
        if alone and not self.numbered:
            said.append("PRIMARY KEY")
        elif NoneType not in get_args(kind):
            said.append("NOT NULL")
        if alone and self.numbered:
            said.append("UNIQUE")
        if name in self.allowed:
            said.append(f"CHECK ({name} IN ({', '.join(repr(value) for value in self.allowed[name])}))")
        if name in self.entries:
            said.append("REFERENCES entries (id)")
        if name in self.items:
            said.append("REFERENCES items (id) DEFERRABLE INITIALLY DEFERRED")
        return " ".join(said)


def _stored(kind: type) -> str:
    kinds = [member for member in get_args(kind) or (kind,) if member is not NoneType]
    return _STORED[kinds[0]]
