"""Questions to a connection in SQL, answered with named rows."""

from __future__ import annotations

import sqlite3
from abc import ABC, abstractmethod
from collections.abc import Iterator, Mapping
from functools import partial
from typing import Any

from upkeep.errors import StrokebookError
from upkeep.store.rows.table import R

Parameters = tuple[Any, ...] | Mapping[str, Any]
"""What stands for the marks of a query: values in order, or by name."""


class Queries(ABC):
    """What can be asked of a connection; what SQLite reports is raised as one of our errors."""

    connection: sqlite3.Connection

    @abstractmethod
    def _said(self, error: sqlite3.DatabaseError) -> StrokebookError:
        """What SQLite reports as an error of ours."""

    def rows(self, sql: str, parameters: Parameters = ()) -> list[tuple[Any, ...]]:
        """All rows of a query.  Raises what SQLite reports as one of our errors."""
        try:
            return self._run(sql, parameters).fetchall()
        except sqlite3.DatabaseError as error:
            raise self._said(error) from error

    def row(self, sql: str, parameters: Parameters = ()) -> tuple[Any, ...] | None:
        """The first row of a query, None where there is none."""
        try:
            record: tuple[Any, ...] | None = self._run(sql, parameters).fetchone()
        except sqlite3.DatabaseError as error:
            raise self._said(error) from error
        return record

    def all(self, row: type[R], sql: str, parameters: Parameters = ()) -> list[R]:
        """All rows of a query, with names; raises as :meth:`rows` does."""
        try:
            return list(_named(row, self._run(sql, parameters)))
        except sqlite3.DatabaseError as error:
            raise self._said(error) from error

    def first(self, row: type[R], sql: str, parameters: Parameters = ()) -> R | None:
        """The first row of a query, with names; None where there is none."""
        record = self.row(sql, parameters)
        return None if record is None else row._make(record)

    def each(self, row: type[R], sql: str, parameters: Parameters = ()) -> Iterator[R]:
        """The rows of a query, with names; read only as far as they are taken."""
        return _named(row, self._run(sql, parameters))

    def values(self, sql: str, parameters: Parameters = ()) -> list[Any]:
        """The first column of all rows of a query."""
        return [value for value, *_ in self.rows(sql, parameters)]

    def value(self, sql: str, parameters: Parameters = ()) -> Any:
        """The first column of the first row of a query, None where there is none."""
        row = self.row(sql, parameters)
        return None if row is None else next(iter(row))

    def _run(self, sql: str, parameters: Parameters) -> sqlite3.Cursor:
        return self.connection.execute(sql, parameters)


def _named(row: type[R], cursor: sqlite3.Cursor) -> Iterator[R]:
    """The rows of a cursor with names.  Columns are counted once, not row by row as ``_make`` does it: that takes
    longer than to read the row."""
    assert len(cursor.description) == len(row._fields), row
    return map(partial(tuple.__new__, row), cursor)
