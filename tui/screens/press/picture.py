"""Attaches a picture to what was written last at this terminal: the path of its file, completed with Tab."""

from __future__ import annotations

import asyncio
import os
from collections.abc import Iterable, Sequence
from functools import partial
from pathlib import Path

from textual.widget import Widget
from textual.widgets import Input

from tui.keys import Where, bindings_at
from tui.present.words import wrapped
from tui.screens.frame.base import Asker, Foot
from tui.screens.frame.desk import Desk, Signed
from tui.screens.who.identify import person_at
from tui.widgets.fields import Field
from upkeep.errors import Refused
from upkeep.said import Numeral, Quoted, Said, said, said_as, term
from upkeep.wording.text import fit, visible

_WIDTH, _ROWS = 70, 8
_LONGEST = 4096
"""Letters of the longest path."""


class PictureScreen(Asker[Said]):
    """Which file?  The answer says what was written.  What is no picture is refused by its content, and the path stays
    to be put right."""

    BINDINGS = bindings_at(Where.PICTURE)
    WHERE = Where.PICTURE

    def __init__(self, desk: Desk, last: Signed) -> None:
        super().__init__(desk)
        self._last = last
        self._field = Field(id="path", longest=_LONGEST)
        self._field.select_on_focus = False

    def asks(self) -> Iterable[Widget]:
        """What the picture will belong to, the field, the files that may be meant."""
        yield self.rows("question", "-strong")
        yield self._field
        yield self.rows("files")

    def keys_now(self) -> Foot:
        """Enter attaches."""
        return ((term("enter", "key"), said_as("foot", "attach")), *super().keys_now()[1:])

    def on_mount(self) -> None:
        """Says what the picture will belong to."""
        question = said(
            "Picture for #{entry}, {what}: the path of its file",
            entry=Numeral(self._last.entries[0]),
            what=self._last.what,
        )
        self.rows("question").show(wrapped(self.desk.words(question), _WIDTH))

    def action_complete(self) -> None:
        """Completes the path as far as it is clear, and shows what may be meant."""
        self.do(self._complete)

    async def _complete(self) -> None:
        typed = self._field.value
        path, found = await asyncio.to_thread(completed, typed)
        if self._field.value != typed:
            return  # somebody typed on
        self._field.value = path
        self._field.cursor_position = len(path)
        self.say(None if found else said("Nothing begins with {typed}.", typed=Quoted(typed)))
        self.rows("files").show(() if len(found) == 1 else [fit(visible(name), _WIDTH) for name in found[:_ROWS]])

    def on_input_submitted(self, event: Input.Submitted) -> None:
        """Looks at the file and keeps it."""
        event.stop()
        self.save(partial(self._write, event.value))

    async def _write(self, typed: str) -> None:
        from upkeep.entries.lives import Picture

        file = _meant(typed)
        ending = await asyncio.to_thread(_ending, file)
        by, item = await person_at(self), self._last.item
        if by is None or item is None:
            return
        path = await self.desk.clerk.ask(lambda book: book.path)
        kept, sha256 = await asyncio.to_thread(_kept, path, file, ending)
        number = self._last.entries[0]
        picture = Picture(at=self.desk.now(), by=by.id, item=item, file=kept, sha256=sha256, of=number)
        written = await self.desk.written(picture, by=by)
        self.desk.remember(written, by, picture.at, said("picture for #{entry}", entry=Numeral(number)))
        attached = said(
            "ATTACHED: {file} to #{entry}, {what}. Written as #{number} by {name}.",
            file=visible(file.name),
            entry=Numeral(number),
            what=self._last.what,
            number=Numeral(written.entries[0]),
            name=by.name,
        )
        self.leave(attached)


def completed(typed: str) -> tuple[str, Sequence[str]]:
    """A path as far as it is clear, and the names it may end in: folders end in "/"; hidden files are left out
    unless their dot was typed."""
    folder, begun = os.path.split(typed)
    try:
        with os.scandir(Path(folder).expanduser()) as entries:
            names = sorted(f"{entry.name}/" if entry.is_dir() else entry.name for entry in entries)
    except (OSError, ValueError, RuntimeError):
        return typed, ()
    found = [name for name in names if name.startswith(begun) and (begun or not name.startswith("."))]
    if not found:
        return typed, ()
    return os.path.join(folder, os.path.commonprefix(found)), found  # noqa: RUF071  letter by letter is what is meant


def _meant(typed: str) -> Path:
    """The file meant; a terminal into which a file is dragged puts quotes round its path."""
    path = typed.strip().strip("'\"")
    if not path:
        raise Refused(said("Type the path of the picture; Tab completes it."))
    try:
        return Path(path).expanduser()
    except RuntimeError:
        return Path(path)  # "~somebody" whom this machine does not know


def _ending(file: Path) -> str:
    from upkeep.papers.beside import ending_of

    try:
        there = file.is_file()
    except (OSError, ValueError):
        there = False
    if not there:
        raise Refused(said("There is no file {file}. Tab shows what there is.", file=Quoted(str(file))))
    return ending_of(file)


def _kept(book: Path, file: Path, ending: str) -> tuple[str, str]:
    from upkeep.book.pictures import keep_picture

    try:
        content = file.read_bytes()
    except OSError as error:
        raise Refused(said("{file} cannot be kept: {why}.", file=file, why=str(error.strerror))) from error
    return keep_picture(book, content, ending)
