"""Parts that leave for ever."""

from __future__ import annotations

from pathlib import Path

import click

from upkeep.cli.options import because_option, book_option, by_option, happened_option, write
from upkeep.entries.lives import ENDS, Retire


@click.command()
@click.argument("item")
@click.argument("end", type=click.Choice(ENDS))
@happened_option
@by_option
@because_option
@book_option
def retire(item: str, end: str, at_text: str | None, by: str, because: str, book_path: Path) -> None:
    """ITEM is gone for good: worn, broken, or other (still usable, gone for another reason).

    It can never be fitted or released again, and its life counts in 'strokebook lives'.

    Example: strokebook retire CP-031 worn --because "edges rounded" --by tom
    """
    write(book_path, at_text, lambda book, at: [Retire(at=at, by=by, item=item, end=end, because=because)])
