"""Labels of items."""

from __future__ import annotations

from pathlib import Path

import click

from upkeep.cli.options import book_option, language_option, opened
from upkeep.cli.outputs import replace_option, save
from upkeep.cli.saying import WrongUsage, reader_of
from upkeep.said import said


@click.command()
@click.argument("items", nargs=-1)
@click.option("--kind", help="All items of this kind: press, module, die set, gauge.")
@click.option("--pdf", "target", type=click.Path(path_type=Path, dir_okay=False), help="Write a PDF to this file.")
@click.option("--roll", is_flag=True, help="For a roll of 62 mm, one label a page; else A4 sheets of 3 x 8.")
@replace_option
@language_option
@book_option
def labels(
    items: tuple[str, ...], kind: str | None, target: Path | None, roll: bool, replacing: bool, language: str | None,
    book_path: Path,
) -> None:  # fmt: skip
    """Labels of ITEMS: the id, its title, whose it is, and a code that a scanner types.

    Nothing on a label ever changes, so it may be engraved as well. Print at 100 %, not fitted to the page.

    Example: strokebook labels M-12 DS-031 --roll --pdf labels.pdf
    """
    from upkeep.papers.cards.labels import label_cells, labels_pdf, labels_text

    with opened(book_path) as book:
        of_kind = [item.id for item in book.items() if item.kind == kind and not item.scrapped]
        wanted = [book.known.item(key) for key in dict.fromkeys((*items, *of_kind))]
        if not wanted:
            raise WrongUsage(said("Name the items, or a kind that there is: labels M-12, or labels --kind gauge."))
        cells = label_cells(wanted, reader_of(book, language))
    if target is not None:
        save(target, labels_pdf(cells, roll=roll), replacing=replacing)
    else:
        click.echo(labels_text(cells), nl=False)
