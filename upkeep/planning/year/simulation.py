"""A year to come, played many times: what is done late, the hours of each week, and what wears out in use.

Method.  Day by working day, all runs at once (one row of each array is a run).  Every item does strokes drawn from the
normal distribution of its rate, none below zero.  A line falls due when its days or its strokes are up, and is done by
the role it is for, what law asks for first, then what has waited longest, while hours of the day are left; a job that
is begun is finished, and what it takes too long is missing the next day.  A part fails when its strokes reach a life
drawn from the Weibull distribution of its family, given that it has lasted so far; before that it is replaced where the
policy says so.  Either takes a spare; where none lies on the shelf the part waits for the next that comes.  What the
shelf has, together with what is ordered, is filled up as soon as it is down to its reorder level.

Runs of two policies share their draws: the same strokes on each day, the same lives of the first, second, third part in
each place.  So what differs between them is the policy and not chance.  The same seed gives the same year.

Where it fails: people are hours of a role, not names with absences; presses never stand for want of work or orders;
breakdowns cost hours only as the reserve says; the lives of a family go on as they were.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING

from upkeep.frozen import frozen
from upkeep.planning.year.spreading import WEEK
from upkeep.progress import Progress, Watch, nobody

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Numbers = NDArray[np.float64]

RUNS = 200
"""Runs of a year: enough that one run in twenty is ten of them (plant default, no source)."""

LIVES = 64
"""Lives of the parts in one place that are drawn ahead; a place that uses more begins with the first again."""


@frozen
class YearLine:
    """A line of the year: ``minutes`` each time by a ``role``.

    Due next on working day ``first`` (from 0; below 0: it is late already) and then every ``every`` days after it was
    done (None: not by days); or when its ``item`` has done ``left`` more strokes, and then every ``strokes`` (None: not
    by strokes), whichever comes first.  ``fixed``: its days stand whenever it is done, and those passed by then are
    not made up for.  It is late when it was not done ``grace`` days after its day; ``law``: law asks for it.
    """

    line: str
    role: str
    minutes: float
    item: int
    first: int | None = None
    every: int | None = None
    left: float | None = None
    strokes: float | None = None
    grace: int = 0
    law: bool = False
    fixed: bool = False


@frozen
class YearPart:
    """A part in use: how long its like last (Weibull ``shape`` and ``scale`` in strokes), what it has done (``age``),
    the item whose strokes it does, the strokes after which it is replaced (None: when it has failed), the minutes of a
    replacement by a role, and its spare (None: the shelf has always one)."""

    item: int
    age: float
    shape: float
    scale: float
    replace_at: float | None
    role: str
    minutes: float
    spare: int | None = None


@frozen
class YearSpare:
    """A spare: on the shelf, down to how many it is ordered, how many then, and the working days until they come."""

    stock: int
    reorder: int
    order: int
    lead: int


@frozen
class YearPlan:
    """All that a year hangs on: the strokes of items a working day (mean, standard deviation), lines, parts, spares,
    and the minutes of a working day that each role has for planned work."""

    items: tuple[tuple[float, float], ...]
    lines: tuple[YearLine, ...]
    minutes: Mapping[str, float]
    parts: tuple[YearPart, ...] = ()
    spares: tuple[YearSpare, ...] = ()
    days: int = 260


@frozen
class Year:
    """What the runs brought, a number each: lines done late or late at the end, parts that failed in use, working days
    on which parts waited for a spare; and the minutes of work of each week, a row a week."""

    late: tuple[int, ...]
    failed: tuple[int, ...]
    waited: tuple[int, ...]
    weeks: tuple[tuple[float, ...], ...]


def simulated(plan: YearPlan, runs: int, seed: int, watch: Watch = nobody) -> Year:
    """The year of a plan, so many times; ``watch`` is told how many days have passed."""
    made = _Playing(plan, runs, seed)
    for day in range(plan.days):
        made.play(day)
        watch(Progress("played", day + 1, plan.days))
    return made.year()


class _Playing:
    """The state of all runs."""

    def __init__(self, plan: YearPlan, runs: int, seed: int) -> None:
        import numpy as np

        self._np, self._plan, self._runs = np, plan, runs
        strokes, lives = np.random.SeedSequence(seed).spawn(2)
        self._strokes = np.random.Generator(np.random.PCG64(strokes))
        self._means = np.array([mean for mean, _ in plan.items])
        self._scatters = np.array([scatter for _, scatter in plan.items])
        self._weeks = np.zeros((plan.days // WEEK + 1, runs))
        self._late = np.zeros(runs, dtype=int)
        self._spent = {role: np.zeros(runs) for role in plan.minutes}
        self._parts = _Parts(plan, runs, np.random.Generator(np.random.PCG64(lives)))
        self._lines = _Lines(plan, runs)

    def play(self, day: int) -> None:
        """One working day."""
        np, plan = self._np, self._plan
        drawn = self._strokes.standard_normal((self._runs, len(plan.items)))
        did = np.maximum(0.0, self._means + self._scatters * drawn)
        minutes = self._parts.play(day, did)
        self._lines.wear(day, did)
        for role, there in plan.minutes.items():
            asked = minutes.get(role, 0.0)
            room = there - np.maximum(0.0, self._spent[role] - there) - asked
            done, late = self._lines.work(role, day, room)
            self._spent[role] = np.maximum(0.0, self._spent[role] - there) + asked + done
            self._weeks[day // WEEK] += asked + done
            self._late += late

    def year(self) -> Year:
        """What the runs brought."""
        late = self._late + self._lines.late_at_the_end(self._plan.days)
        weeks = self._weeks[: (self._plan.days + WEEK - 1) // WEEK]
        return Year(
            tuple(map(int, late)),
            tuple(map(int, self._parts.failed)),
            tuple(map(int, self._parts.waited)),
            tuple(tuple(map(float, week)) for week in weeks),
        )


class _Lines:
    """Lines by run: when each is due by its days, the strokes left, and since when it waits."""

    def __init__(self, plan: YearPlan, runs: int) -> None:
        import numpy as np

        self._np, lines = np, plan.lines
        shape = (runs, len(lines))
        self._items = np.array([line.item for line in lines], dtype=int)
        self._minutes = np.array([line.minutes for line in lines])
        self._every = _or_never([line.every for line in lines])
        self._again = _or_never([line.strokes for line in lines])
        self._grace = np.array([line.grace for line in lines])
        self._law = np.array([line.law for line in lines])
        self._fixed = np.array([line.fixed for line in lines], dtype=bool)
        self._next = np.broadcast_to(_or_never([line.first for line in lines]), shape).copy()
        self._left = np.broadcast_to(_or_never([line.left for line in lines]), shape).copy()
        self._since = np.full(shape, np.inf)
        self._of = {role: np.flatnonzero([line.role == role for line in lines]) for role in plan.minutes}

    def wear(self, day: int, did: Numbers) -> None:
        """The strokes of a day, and what falls due with them."""
        np = self._np
        self._left -= did[:, self._items]
        due = (self._next <= day) | (self._left <= 0)
        came = np.where(self._next <= day, np.minimum(self._next, day), day)
        self._since = np.where(due, np.minimum(self._since, came), np.inf)

    def work(self, role: str, day: int, room: Numbers) -> tuple[Numbers, Numbers]:
        """Does what a role has room for, minutes by run; gives the minutes it took, and how many lines were late."""
        np, mine = self._np, self._of[role]
        mine = mine[np.isfinite(self._since[:, mine]).any(axis=0)]
        if not len(mine):
            return np.zeros(self._runs), np.zeros(self._runs, dtype=int)
        since = self._since[:, mine]
        order = np.argsort(np.where(self._law[mine], since - 1e6, since), axis=1, kind="stable")
        waits = np.take_along_axis(np.isfinite(since), order, axis=1)
        takes = np.where(waits, self._minutes[mine][order], 0.0)
        before = np.cumsum(takes, axis=1) - takes
        done = np.zeros_like(waits)
        np.put_along_axis(done, order, waits & (before < room[:, None]), axis=1)
        late = done & (day > since + self._grace[mine])
        self._begin_anew(mine, done, day)
        return (done * self._minutes[mine]).sum(axis=1), late.sum(axis=1)

    @property
    def _runs(self) -> int:
        return len(self._since)

    def _begin_anew(self, mine: NDArray[np.int_], done: NDArray[np.bool_], day: int) -> None:
        np = self._np
        every, since = self._every[mine], self._since[:, mine]
        base = np.where(self._fixed[mine] & np.isfinite(since) & np.isfinite(every), since, day)
        with np.errstate(invalid="ignore"):
            following = base + every * (1 + np.where(base < day, (day - base) // every, 0))
        for state, again in ((self._next, following), (self._left, self._again[mine])):
            state[:, mine] = np.where(done, again, state[:, mine])
        self._since[:, mine] = np.where(done, np.inf, self._since[:, mine])

    def late_at_the_end(self, day: int) -> NDArray[np.int_]:
        """How many lines stand late, by run."""
        late: NDArray[np.int_] = (day > self._since + self._grace).sum(axis=1)
        return late


class _Parts:
    """Parts by run: their lives, what they have done, and the shelf they are replaced from."""

    def __init__(self, plan: YearPlan, runs: int, random: np.random.Generator) -> None:
        import numpy as np

        self._np, self._plan = np, plan
        shape = (runs, len(plan.parts))
        self._drawn = random.random((*shape, LIVES))
        self._items = np.array([part.item for part in plan.parts], dtype=int)
        self._shape = np.array([part.shape for part in plan.parts])
        self._scale = np.array([part.scale for part in plan.parts])
        self._planned = _or_never([part.replace_at for part in plan.parts])
        self._age = np.broadcast_to(np.array([part.age for part in plan.parts], dtype=float), shape).copy()
        self._number = np.zeros(shape, dtype=int)
        self._life = self._first_lives()
        self._waits = np.zeros(shape, dtype=bool)
        self._stock = np.broadcast_to(np.array([spare.stock for spare in plan.spares], dtype=int),
                                      (runs, len(plan.spares))).copy()  # fmt: skip
        most = max((spare.lead for spare in plan.spares), default=0)
        self._coming = np.zeros((plan.days + most + 1, runs, len(plan.spares)), dtype=int)
        self._ordered = np.zeros((runs, len(plan.spares)), dtype=int)
        self.failed = np.zeros(runs, dtype=int)
        self.waited = np.zeros(runs, dtype=int)

    def _first_lives(self) -> Numbers:
        """Lives of parts that have lasted so far: the share that fails later, of those that reached that age."""
        np = self._np
        reached = (self._age / self._scale) ** self._shape
        lives: Numbers = self._scale * (reached - np.log1p(-self._drawn[:, :, 0])) ** (1 / self._shape)
        return lives

    def play(self, day: int, did: Numbers) -> dict[str, Numbers]:
        """A day of strokes; gives the minutes that replacing takes, by role."""
        np, parts = self._np, self._plan.parts
        if not parts:
            return {}
        self._stock += self._coming[day]
        self._ordered -= self._coming[day]
        self._age += np.where(self._waits, 0.0, did[:, self._items])
        failed = ~self._waits & (self._age >= self._life)
        self.failed += failed.sum(axis=1)
        wanted = failed | self._waits | (self._age >= self._planned)
        minutes: dict[str, Numbers] = {}
        for at in np.flatnonzero(wanted.any(axis=0)):
            replaced = wanted[:, at] & self._taken(parts[at].spare, wanted[:, at])
            self._waits[:, at] = (failed[:, at] | self._waits[:, at]) & ~replaced
            self._renew(int(at), replaced)
            minutes[parts[at].role] = minutes.get(parts[at].role, 0.0) + replaced * parts[at].minutes
        self.waited += self._waits.sum(axis=1)
        self._order(day)
        return minutes

    def _taken(self, spare: int | None, wanted: NDArray[np.bool_]) -> NDArray[np.bool_]:
        if spare is None:
            return wanted
        taken = wanted & (self._stock[:, spare] > 0)
        self._stock[:, spare] -= taken
        return taken

    def _renew(self, at: int, replaced: NDArray[np.bool_]) -> None:
        np = self._np
        self._number[:, at] += replaced
        drawn = self._drawn[np.arange(len(replaced)), at, self._number[:, at] % LIVES]
        life = self._scale[at] * (-np.log1p(-drawn)) ** (1 / self._shape[at])
        self._life[:, at] = np.where(replaced, life, self._life[:, at])
        self._age[:, at] = np.where(replaced, 0.0, self._age[:, at])

    def _order(self, day: int) -> None:
        np = self._np
        for number, spare in enumerate(self._plan.spares):
            short = self._stock[:, number] + self._ordered[:, number] <= spare.reorder
            order = np.where(short, spare.order, 0)
            self._coming[day + max(1, spare.lead), :, number] += order
            self._ordered[:, number] += order


def _or_never(values: Sequence[float | None]) -> Numbers:
    """The values, with infinity in place of None."""
    import numpy as np

    numbers: Numbers = np.array([np.inf if value is None else value for value in values], dtype=float)
    return numbers
