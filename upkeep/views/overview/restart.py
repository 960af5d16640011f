"""The first morning after the plant stood still, as a frozen view."""

from __future__ import annotations

from datetime import datetime

from upkeep.frozen import frozen
from upkeep.views.board import BoardLine


@frozen
class RestartPress:
    """One press in walking order: ``guards`` are checks asked by law or after the shutdown, ``before`` what else waits
    for its first use, ``meanwhile`` what fell due while it stood, ``earlier`` what was due before.

    ``last_count`` is what its counter showed last, ``last_count_at`` when; both None where it was never read.
    ``locked``: somebody's lock hangs on it.
    """

    press: str
    title: str
    place: str
    area: str
    last_count: int | None
    last_count_at: datetime | None
    guards: tuple[BoardLine, ...]
    before: tuple[BoardLine, ...]
    meanwhile: tuple[BoardLine, ...]
    earlier: tuple[BoardLine, ...]
    locked: bool


@frozen
class Restart:
    """What has to be seen to before the presses run again; ``since`` is when the plant was last counted: it stood still
    from then on."""

    at: datetime
    since: datetime | None
    presses: tuple[RestartPress, ...]
