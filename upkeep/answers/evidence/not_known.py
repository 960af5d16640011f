"""What an auditor would look for in a dossier in vain."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from upkeep.entries.origin import Proof
from upkeep.plant.model import Item
from upkeep.said import Said, in_turn, listed, said, said_many
from upkeep.units.quantities import in_strokes
from upkeep.views.checks import CheckRow
from upkeep.views.evidence.dossier import Signed
from upkeep.views.faults import FaultCase
from upkeep.views.items import LifeNumbers
from upkeep.wording.doubts import why_guessed

_UNPROVEN = (Proof.NOT_KNOWN, Proof.NONE)


def not_known(
    item: Item, life: LifeNumbers, checks: Iterable[CheckRow], signed: Iterable[Signed], faults: Iterable[FaultCase]
) -> Iterator[Said]:
    """What the book does not know of an item, one sentence each."""
    yield from _strokes(life)
    if item.since is None:
        yield said("When it came into use was not entered.")
    yield from _gauges(list(checks))
    yield from _names(list(checks), list(signed))
    yield from _signatures(list(signed))
    unknown = [fault for fault in faults if not fault.open and fault.cause is None]
    if unknown:
        yield said_many(
            "{n} fault that has ended names no cause.", "{n} faults that have ended name no cause.", n=len(unknown)
        )


def _strokes(life: LifeNumbers) -> Iterator[Said]:
    if life.life_unknown:
        yield said("How many strokes it has done: nobody knows, and none is left until it is inspected.")
    if life.estimated:
        low, _, high = life.since_new
        band = said("Its strokes are estimated, between {low} and {high}.", low=low, high=in_strokes(high))
        yield in_turn(band, said("Why: {why}.", why=why_guessed(life.doubts)))
    if life.unattributed:
        yield said("{strokes} with no module on it.", strokes=in_strokes(life.unattributed))


def _gauges(checks: list[CheckRow]) -> Iterator[Said]:
    without = [row for row in checks if row.points and row.limits and row.gauge is None]
    if without:
        yield said_many(
            "{n} check with limits names no gauge.", "{n} checks with limits name no gauge.", n=len(without)
        )
    doubtful = [row for row in checks if row.gauge_doubt is not None]
    if doubtful:
        gauges = listed(sorted({row.gauge or "" for row in doubtful}))
        yield said_many(
            "{n} check rests on a gauge that did not count then ({gauges}).",
            "{n} checks rest on gauges that did not count then ({gauges}).",
            n=len(doubtful), gauges=gauges,
        )  # fmt: skip


def _names(checks: list[CheckRow], signed: list[Signed]) -> Iterator[Said]:
    proofs = [row.proof for row in checks] + [row.proof for row in signed]
    unproven = sum(proof in _UNPROVEN for proof in proofs)
    if unproven:
        yield said("Names that nothing proved: {n} of {of} checks and sign-offs.", n=unproven, of=len(proofs))


def _signatures(signed: list[Signed]) -> Iterator[Said]:
    lacking = [row for row in signed if row.second_asked is not None and row.second_by is None]
    if lacking:
        yield said_many(
            "{n} sign-off lacks its second signature.", "{n} sign-offs lack their second signature.", n=len(lacking)
        )
    outside = [row for row in signed if not row.authority.given or not all(held for *_, held in row.authority.trained)]
    if outside:
        yield said_many(
            "{n} sign-off by somebody whose role or training of then is not in the book.",
            "{n} sign-offs by people whose role or training of then is not in the book.",
            n=len(outside),
        )
