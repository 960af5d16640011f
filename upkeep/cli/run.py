"""All commands under one name, each loaded when it is called; what goes wrong becomes a sentence and an exit code."""

from __future__ import annotations

import importlib
import os
import sys
from collections.abc import Sequence
from pathlib import Path

import click

from upkeep.cli.commands import COMMANDS, SECTIONS
from upkeep.cli.reader.helping import help_in, helped, teach_click
from upkeep.cli.saying import READER, words
from upkeep.errors import StrokebookError
from upkeep.said import Numeral, Said, either, said

HELP_WIDTH = 80


class Commands(click.Group):
    """The commands of :data:`COMMANDS`, each imported only when it is asked for."""

    def list_commands(self, ctx: click.Context) -> list[str]:
        """Their names in order."""
        return list(COMMANDS)

    def get_command(self, ctx: click.Context, cmd_name: str) -> click.Command | None:
        """The command of a name."""
        if cmd_name not in COMMANDS:
            return None
        module = importlib.import_module(f"upkeep.cli.{COMMANDS[cmd_name][0]}")
        command: click.Command = getattr(module, cmd_name.replace(" ", "_"))
        return helped(command, READER)

    def resolve_command(
        self, ctx: click.Context, args: list[str]
    ) -> tuple[str | None, click.Command | None, list[str]]:
        """The command that is meant; a name that is none is answered with those that look like it."""
        if " ".join(args[:2]) in COMMANDS:
            args = [" ".join(args[:2]), *args[2:]]
        elif args and args[0] not in COMMANDS and not args[0].startswith("-"):
            from difflib import get_close_matches

            near = get_close_matches(args[0], COMMANDS)
            if near:
                sentence = said("No such command '{name}'. Did you mean {near}?", name=args[0], near=either(near))
                raise click.UsageError(words(sentence), ctx)
        return super().resolve_command(ctx, args)

    def format_commands(self, ctx: click.Context, formatter: click.HelpFormatter) -> None:
        """The list of commands, without importing them."""
        widest = max(map(len, COMMANDS))
        for title, section in SECTIONS.items():
            with formatter.section(help_in(title, READER)):
                formatter.write_dl(
                    [(f"{name:<{widest}}", help_in(summary, READER)) for name, (_, summary) in section.items()]
                )


@click.command(
    cls=Commands,
    context_settings={"help_option_names": ["-h", "--help"], "max_content_width": HELP_WIDTH},
    epilog="Start with 'strokebook demo'. 'strokebook COMMAND --help' says more about each.",
)
@click.option("--unproven", is_flag=True, help="Write into a book that did not prove clean.")
@click.option("--clock-is-right", is_flag=True, help="Write although the last entry is long ago.")
@click.option(
    "--token-file",
    type=click.Path(path_type=Path, dir_okay=False, exists=True),
    envvar="STROKEBOOK_TOKEN_FILE",
    help="A file with the token of whoever writes (or STROKEBOOK_TOKEN_FILE).",
)
@click.option(
    "--version",
    is_flag=True,
    is_eager=True,
    expose_value=False,
    callback=lambda ctx, _, asked: _tell_version(ctx) if asked else None,
    help="Show the version with the number of its tables.",
)
def strokebook(unproven: bool, clock_is_right: bool, token_file: Path | None) -> None:
    """The book a crimp shop keeps of its press strokes and of the care its tooling gets.

    Every command works on one book, a file: --book FILE, or the one named by STROKEBOOK_BOOK, or strokebook.db in this
    folder. Give the writer with --by ID, or STROKEBOOK_BY; a plant that goes by codes asks for the writer's. Times are
    local time of the plant: '2026-03-02 06:00'.
    """


def _tell_version(ctx: click.Context) -> None:
    from upkeep.cli.first_day.news import version_said

    click.echo(words(version_said()))
    ctx.exit()


def run(arguments: Sequence[str]) -> int:
    """Runs one command line and gives its exit code; says what went wrong on stderr, never with a traceback."""
    no_text = _no_text(arguments)
    if no_text is not None:
        return _said(words(no_text), 2)
    try:
        teach_click(READER)
        result = helped(strokebook, READER).main(list(arguments), prog_name="strokebook", standalone_mode=False)
        return result if isinstance(result, int) else 0
    except StrokebookError as error:
        return _said(words(error.said), error.exit_code)
    except click.UsageError as error:
        error.show()
        return 2
    except click.ClickException as error:
        return _said(error.format_message(), 1)
    except (KeyboardInterrupt, click.Abort):
        return _said(words(said("Stopped; everything that was confirmed is in the book.")), 1)
    except BrokenPipeError:
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return 0
    except Exception as error:
        return _failed(error)


def _no_text(arguments: Sequence[str]) -> Said | None:
    """What is wrong where a word of the command, or of its settings, is no text; None: all are."""
    settings = {name: value for name, value in os.environ.items() if name.startswith("STROKEBOOK_")}
    named = [(said("Word {n} of this command", n=Numeral(place)), word) for place, word in enumerate(arguments, 1)]
    named += [(said("The setting {name}", name=name), value) for name, value in settings.items()]
    for what, word in named:
        if "\0" in word or any("\ud800" <= letter <= "\udfff" for letter in word):
            return said("{what} is not text: some of its bytes are not UTF-8. Type it again.", what=what)
    return None


def _failed(error: Exception) -> int:
    """Says what the system refused, or what a command could not reckon with, or that this is a fault of the program."""
    if isinstance(error, OSError) and error.errno is not None:
        why = str(error.strerror)
        named = said("{file} cannot be used: {why}.", file=str(error.filename), why=why)
        return _said(words(named if error.filename else said("The system refused: {why}.", why=why)), 1)
    if isinstance(error, OverflowError):
        return _said(words(said("A number or a date in this command is too large to work with. Check it.")), 1)
    if os.environ.get("STROKEBOOK_TRACE"):
        raise error
    unexpected = said(
        "This should not have happened ({kind}: {error}). STROKEBOOK_TRACE=1 shows where.",
        kind=type(error).__name__,
        error=str(error),
    )
    return _said(words(unexpected), 1)


def _said(sentence: str, code: int) -> int:
    click.echo(sentence, err=True)
    return code
