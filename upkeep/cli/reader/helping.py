"""The pages of help, and click's own words, in the language of the one at the terminal."""

from __future__ import annotations

import gettext
import inspect
from collections.abc import Iterator
from copy import copy
from typing import TypeVar

import click

from upkeep.cli.reader.language import ENGLISH
from upkeep.said import Said, said
from upkeep.wording.sentences import CATALOGUES, Reader, text

CLICK_DOMAIN = "messages"
"""The catalogue that click looks into by the same settings of a terminal; it knows of no other name."""

Command = TypeVar("Command", bound=click.Command)


def teach_click(reader: Reader) -> None:
    """Tells click where the catalogue of its own words is, where somebody reads another language than English."""
    if reader.language != ENGLISH:
        gettext.bindtextdomain(CLICK_DOMAIN, CATALOGUES)


def help_in(words: str, reader: Reader) -> str:
    """A text of the help as it is read."""
    return text(Said(words), reader)


_EXAMPLE = "Example: "
_AS_IT_STANDS = "\b"
"""What click lays out anew in no width; it is an example too."""


def paragraphs(words: str) -> Iterator[str]:
    """The paragraphs of a page of help that are to be translated, each on one line; an example is the same to all."""
    for paragraph in inspect.cleandoc(words).split("\n\n"):
        if not paragraph.startswith((_EXAMPLE, _AS_IT_STANDS)):
            yield " ".join(paragraph.split())


def page_in(words: str, reader: Reader) -> str:
    """A page of help as it is read, paragraph by paragraph."""
    return "\n\n".join(_paragraph_in(paragraph, reader) for paragraph in inspect.cleandoc(words).split("\n\n"))


def _paragraph_in(paragraph: str, reader: Reader) -> str:
    if paragraph.startswith(_AS_IT_STANDS):
        return paragraph
    if paragraph.startswith(_EXAMPLE):
        return text(said("Example: {command}", command=paragraph.removeprefix(_EXAMPLE).replace("\n", " ")), reader)
    return help_in(" ".join(paragraph.split()), reader)


def helped(command: Command, reader: Reader) -> Command:
    """A command whose page of help is read in the reader's language; the command itself where that is English."""
    if reader.language == ENGLISH:
        return command
    told = copy(command)
    told.help = page_in(told.help, reader) if told.help else None
    told.epilog = help_in(told.epilog, reader) if told.epilog else None
    told.params = [_helped(param, reader) for param in told.params]
    return told


def _helped(param: click.Parameter, reader: Reader) -> click.Parameter:
    if not isinstance(param, click.Option) or not param.help:
        return param
    told = copy(param)
    told.help = help_in(param.help, reader)
    return told
