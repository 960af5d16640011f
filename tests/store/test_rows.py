"""The tables of a new book hold the rows their types describe, and no others; a command that counts stays light."""

from __future__ import annotations

import subprocess
import sys
from collections.abc import Iterator
from contextlib import closing
from pathlib import Path
from types import NoneType
from typing import NamedTuple, get_args, get_type_hints

import pytest

from tests.plants import book_of
from upkeep.entries.row import EntryRow
from upkeep.store.file import BookFile
from upkeep.store.rows.lines import TALLIES
from upkeep.store.rows.projections import PROJECTIONS
from upkeep.store.rows.table import Table

ALL: tuple[Table[NamedTuple], ...] = (*PROJECTIONS, TALLIES)
SQL_TYPES = {str: "TEXT", int: "INTEGER", float: "REAL"}


@pytest.fixture(scope="module")
def file(tmp_path_factory: pytest.TempPathFactory) -> Iterator[BookFile]:
    """An empty book."""
    made = BookFile.create(tmp_path_factory.mktemp("rows") / "empty.book")
    yield made
    made.close()


def name_of(table: Table[NamedTuple]) -> str:
    """The name of a table, for the list of tests."""
    return table.name


@pytest.mark.parametrize("table", ALL, ids=name_of)
def test_a_table_has_the_columns_of_its_rows(file: BookFile, table: Table[NamedTuple]) -> None:
    """Name, type, whether it may be empty, and place in the key, in the order of the fields."""
    kept = file.rows(f"SELECT name, type, \"notnull\", pk FROM pragma_table_info('{table.name}')")
    if table.numbered:
        assert kept.pop(0) == ("id", "INTEGER", 0, 1)
        assert unique(file, table.name) == [table.key]
    assert [name for name, *_ in kept] == list(table.row._fields)
    for name, stored, filled, place in kept:
        kind = get_type_hints(table.row)[name]
        assert stored == next(SQL_TYPES[one] for one in get_args(kind) or (kind,) if one is not NoneType)
        if not table.numbered:
            assert place == (table.key.index(name) + 1 if name in table.key else 0)
        if table.key != (name,) or table.numbered:
            assert filled == (NoneType not in get_args(kind))


def test_the_table_of_the_entries_has_the_columns_of_its_row(file: BookFile) -> None:
    """Its text stands in a step, which never changes: so the two are compared."""
    kept = file.rows("SELECT name, type, \"notnull\" FROM pragma_table_info('entries') WHERE pk = 0")
    hints = get_type_hints(EntryRow)
    assert list(hints) == list(EntryRow._fields) == ["id", *(name for name, *_ in kept)]
    for name, stored, filled in kept:
        kinds = get_args(hints[name]) or (hints[name],)
        assert (stored, filled) == ({**SQL_TYPES, bytes: "BLOB"}[kinds[0]], NoneType not in kinds)


def unique(file: BookFile, table: str) -> list[tuple[str, ...]]:
    """The columns of each index that lets no value stand twice."""
    names = file.values(f"SELECT name FROM pragma_index_list('{table}') WHERE \"unique\"")
    return [tuple(file.values(f"SELECT name FROM pragma_index_info('{name}')")) for name in names]


def test_every_table_but_the_entries_has_named_rows(file: BookFile) -> None:
    """None is made beside them, and none is forgotten where the book is filled or proven."""
    kept = file.values(
        "SELECT name FROM pragma_table_list WHERE type = 'table' AND schema = 'main' AND name NOT LIKE 'sqlite!_%' "
        "ESCAPE '!' AND name NOT LIKE '!_sqlite%' ESCAPE '!'"
    )
    for_other_tools = ["items", "people", "places", "roles", "wall_clock"]
    assert sorted(kept) == sorted(["entries", "tables_number", *for_other_tools, *(table.name for table in ALL)])


def test_every_number_of_an_entry_and_every_link_to_an_item_refers_to_one(file: BookFile) -> None:
    """No row can name an entry that is not in the book."""
    for table in ALL:
        kept = file.rows(f'SELECT "from", "table", "to" FROM pragma_foreign_key_list(\'{table.name}\')')
        to_items = [(column, "items", "id") for column in table.items]
        assert sorted(kept) == sorted([*((column, "entries", "id") for column in table.entries), *to_items])


def test_writing_a_count_loads_no_schema_tool(tmp_path: Path) -> None:
    """It costs a fifth of a second, and a book that is up to date has no use for it."""
    with closing(book_of(tmp_path, "2026-03-02 06:00 count P-07 1204300 by ana")) as book:
        path = book.path
    asked = (
        "import sys; from upkeep.cli.run import run; "
        f"code = run(['count', 'P-07', '1204400', '--by', 'ana', '--book', {str(path)!r}]); "
        "sys.exit(code or 3 * ('sqlite_utils' in sys.modules))"
    )
    done = subprocess.run([sys.executable, "-c", asked], capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stderr
