"""All commands under one name, each loaded when it is called; what goes wrong becomes a sentence and an exit code."""

from __future__ import annotations

import importlib
import os
import sys
from collections.abc import Sequence

import click

from upkeep.errors import StrokebookError

HELP_WIDTH = 80

COMMANDS = {
    "demo": ("demo", "Build the demo plant's book and open it."),
    "new": ("plant", "Make a book from definition files, or load changed ones."),
    "screens": ("screens", "Open the screens: board, round, sign-off."),
    "board": ("looking", "What is due and overdue, most urgent first."),
    "why": ("looking", "Why one line is due, with its arithmetic."),
    "forecast": ("looking", "When a line will be due by strokes, and how sure that is."),
    "questions": ("looking", "What the counts leave open, for a person to answer."),
    "life": ("looking", "The strokes of one item."),
    "history": ("looking", "The newest entries, of the plant or of one item."),
    "round": ("looking", "What one place asks of its operator this shift."),
    "count": ("counting", "Write down what a press counter shows."),
    "fit": ("counting", "Put an item into another."),
    "unfit": ("counting", "Take an item out of what it sits in."),
    "restart": ("telling", "A counter shows another figure: set back, or replaced."),
    "terms": ("telling", "A counter counts otherwise from here on."),
    "made": ("telling", "Pieces made on a press."),
    "order": ("telling", "Plan an order, and see what it would run over."),
    "besides": ("telling", "Strokes the press counter did not count."),
    "rework": ("telling", "A part was reworked and granted more strokes."),
    "unknown-life": ("telling", "Nobody knows what an item has done."),
    "sign": ("signing", "Sign a line as done."),
    "inspect": ("signing", "Sign a graded inspection with its measured points."),
    "verify": ("signing", "Give the second signature on a sign-off."),
    "defer": ("signing", "Move a due line to a later point, at somebody's risk."),
    "cancel": ("signing", "Cancel what will not be done; cancelled is not done."),
    "undo": ("signing", "Take back your own last entry, within a minute."),
    "fault": ("findings", "Report something found on an item."),
    "hold": ("findings", "Hold an item: it must not run until released."),
    "release": ("findings", "Release a held item."),
    "check": ("checks", "Write down what was measured on pieces, a slug or the settings."),
    "first-off": ("checks", "One set-up as a page: settings, first and last piece."),
    "misread": ("checks", "A gauge was found to read wrong; what it measured is in doubt."),
    "gauge": ("checks", "Whether a gauge counts, and which results turn if it was wrong."),
    "chart": ("charting", "Control charts of a characteristic, broken rules in words."),
    "capability": ("charting", "The Cpk of a characteristic with its lower bound."),
    "pulls": ("charting", "What the pull tests say, and what they leave open."),
    "suspect": ("suspect", "Which product is suspect: hold lists, and one as a page."),
    "dispose": ("suspect", "What became of a line of a hold list."),
    "narrow": ("suspect", "Let a suspect window begin later; quality signs."),
    "override": ("suspect", "Leave for a held item to do so many strokes more."),
    "pause": ("findings", "Put an item into storage or out of use."),
    "resume": ("findings", "Bring an item back from storage."),
    "correct": ("mending", "Correct an entry by another; both stay visible."),
    "strike": ("mending", "Strike an entry that never was true."),
    "enter": ("mending", "Write entry lines from a file."),
    "sheet": ("paper", "Enter a weekly list that came back, by its row numbers."),
    "stated": ("paper", "Load when work was last done before the book began."),
    "export": ("keeping", "Print every entry as its one line of text."),
    "week": ("week", "The weekly due list as text or PDF."),
    "figures": ("figures", "How much was done on time, with its definition."),
    "prove": ("keeping", "Re-play the book and compare it with itself."),
    "backup": ("keeping", "Copy the book while it is in use, and prove the copy."),
    "restore": ("keeping", "Make a proven backup the book again."),
    "serve": ("serve", "Keep the book by itself: lists, backups, dropped files."),
}
"""Every command: the module that holds it and what it does, in the order in which a newcomer needs them."""


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
        command: click.Command = getattr(module, cmd_name)
        return command

    def format_commands(self, ctx: click.Context, formatter: click.HelpFormatter) -> None:
        """The list of commands, without importing them."""
        with formatter.section("Commands"):
            formatter.write_dl([(name, told) for name, (_, told) in COMMANDS.items()])


@click.command(
    cls=Commands,
    context_settings={"help_option_names": ["-h", "--help"], "max_content_width": HELP_WIDTH},
    epilog="Start with 'strokebook demo'. 'strokebook COMMAND --help' tells more about each.",
)
@click.version_option(package_name="strokebook", prog_name="strokebook")
def strokebook() -> None:
    """The book a crimp shop keeps of its press strokes and of the care its tooling gets.

    Every command works on one book, a file: --book FILE, or the one named by STROKEBOOK_BOOK, or strokebook.db in this
    folder.  Who writes is --by ID, or STROKEBOOK_BY.  Moments are local time of the plant: '2026-03-02 06:00'.
    """


def run(arguments: Sequence[str]) -> int:
    """Runs one command line and gives its exit code; says what went wrong on stderr, never with a traceback."""
    try:
        result = strokebook.main(list(arguments), prog_name="strokebook", standalone_mode=False)
        return result if isinstance(result, int) else 0
    except StrokebookError as error:
        return _said(str(error), error.exit_code)
    except click.UsageError as error:
        error.show()
        return 2
    except click.ClickException as error:
        return _said(error.format_message(), 1)
    except (KeyboardInterrupt, click.Abort):
        return _said("Stopped; what was confirmed is in the book.", 1)
    except BrokenPipeError:
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return 0
    except Exception as error:
        if os.environ.get("STROKEBOOK_TRACE"):
            raise
        kind = type(error).__name__
        return _said(f"This should not have happened ({kind}: {error}). STROKEBOOK_TRACE=1 shows where.", 1)


def _said(sentence: str, code: int) -> int:
    click.echo(sentence, err=True)
    return code
