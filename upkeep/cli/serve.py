"""Keeping the book by itself."""

from __future__ import annotations

from pathlib import Path

import click

from upkeep.cli.options import book_option, opened


@click.command()
@click.option("--lists", type=click.Path(path_type=Path, file_okay=False), default=Path("lists"), show_default=True,
              help="Folder for the weekly lists.")  # fmt: skip
@click.option("--backups", type=click.Path(path_type=Path, file_okay=False), default=Path("backups"), show_default=True,
              help="Folder for the nightly backups.")  # fmt: skip
@click.option("--keep", type=click.IntRange(1), default=14, show_default=True, help="How many good backups to keep.")
@book_option
def serve(lists: Path, backups: Path, keep: int, book_path: Path) -> None:
    """Keep the book by itself: shift changes, Monday's weekly list, nightly proven backups.  Ctrl-C stops it."""
    with opened(book_path):
        pass
    from upkeep.service.serve import serve as keep_book

    keep_book(book_path, lists=lists, backups=backups, keep=keep)
