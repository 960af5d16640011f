"""The pages of help, and click's own words, in the language of the one at the terminal."""

from __future__ import annotations

import gettext
from copy import copy
from typing import TypeVar

import click

from upkeep.cli.reader.language import ENGLISH
from upkeep.said import Said
from upkeep.wording.sentences import CATALOGUES, Reader, text

CLICK_DOMAIN = "messages"
"""The catalogue that click looks into by the same settings of a terminal; it knows of no other name."""

Command = TypeVar("Command", bound=click.Command)


def teach_click(reader: Reader) -> None:
    """Tells click where the catalogue of its own words is, where somebody reads another language than English."""
    if reader.language != ENGLISH:
        gettext.bindtextdomain(CLICK_DOMAIN, CATALOGUES)


def help_in(words: str, reader: Reader) -> str:
    """A text of the help as it is read; blanks and lines stay, for they lay it out."""
    return text(Said(words), reader)


def helped(command: Command, reader: Reader) -> Command:
    """A command whose page of help is read in the reader's language; the command itself where that is English."""
    if reader.language == ENGLISH:
        return command
    told = copy(command)
    told.help = help_in(told.help, reader) if told.help else None
    told.epilog = help_in(told.epilog, reader) if told.epilog else None
    told.params = [_helped(param, reader) for param in told.params]
    return told


def _helped(param: click.Parameter, reader: Reader) -> click.Parameter:
    if not isinstance(param, click.Option) or not param.help:
        return param
    told = copy(param)
    told.help = help_in(param.help, reader)
    return told
