"""What a check asks for: the die sets somewhere, and for one of them its crimps, limits, gauges and what is likely."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from datetime import datetime, timedelta

from upkeep.answers.checks.gauge_choices import gauges_form
from upkeep.answers.checks.taken_over import checks_of_set_up
from upkeep.answers.life import press_at
from upkeep.answers.people.who_may import who_may
from upkeep.answers.round import Rounds
from upkeep.entries.checking import Check
from upkeep.errors import Refused
from upkeep.keeping.context import Context
from upkeep.keeping.holds import hold_reason
from upkeep.plant.crimps import PULL, Crimp
from upkeep.plant.model import PARTS, Kind, Point
from upkeep.quality import pull
from upkeep.quality.jumps import SLUG
from upkeep.quality.set_ups import FIRST
from upkeep.quality.settings import SETTINGS
from upkeep.said import Said, said, term
from upkeep.units.instants import utc_text
from upkeep.views.check_forms import CheckForm, CrimpForm
from upkeep.views.rights import Wish

_LATELY = timedelta(days=60)
"""How far back the crimp of the last check is looked for before all checks of the set are read."""


class CheckForms:
    """Makes such forms from one book as it stands at a moment."""

    def __init__(self, context: Context) -> None:
        self._context, self._known, self._at = context, context.known, context.moment
        self._rows, self._entries = context.rows, context.entries

    # Which die set

    def sets_at(self, where: str) -> tuple[str, ...]:
        """The die sets at a place, in a press or a module; of a part the one it sits in, of a die set itself."""
        item = self._known.items.get(where)
        if item is None:
            hanging = Rounds(self._context).hanging_on(where)
            return tuple(content.item for content in hanging if content.kind == Kind.DIE_SET)
        key: str | None = where
        if item.kind in PARTS:
            key = self._context.judge.sits_in(where)
        return () if key is None else tuple(dict.fromkeys(self._sets_in(key)))

    def _sets_in(self, key: str) -> Iterator[str]:
        if self._known.item(key).kind is Kind.DIE_SET:
            yield key
            return
        for content in self._rows.inside_now(key):
            yield from self._sets_in(content.item)

    # The form

    def form(self, die_set: str) -> CheckForm:
        """What a check of a die set asks for; raises :class:`Refused` where no crimp of it is defined."""
        item = self._known.item(die_set)
        if item.kind is not Kind.DIE_SET:
            raise Refused(
                said(
                    "{item} is a {kind}; checks are made on what a die set makes.",
                    item=item.id,
                    kind=term(item.kind, "kind"),
                )
            )
        crimps = [crimp for crimp in self._known.crimps.values() if crimp.family == item.family]
        if item.family is None or not crimps:
            raise Refused(
                said(
                    "It is not known what {item} makes: crimps.toml has no crimp for {part}.",
                    item=item.id,
                    part=said("its family (it has none in items.csv)") if item.family is None else item.family,
                )
            )
        run = self._run(item.id)
        forms = tuple(self._crimp(crimp) for crimp in sorted(crimps, key=lambda crimp: crimp.id))
        press = press_at(self._context, item.id, self._at)
        first = any(check.occasion == FIRST for check in run)
        return CheckForm(
            item=item.id,
            title=item.title,
            press=press,
            hold=hold_reason(self._context, item.id),
            crimps=forms,
            crimp=self._likely_crimp(item.id, run, [form.id for form in forms]),
            occasion=FIRST if press and not first else None,
            gauges=tuple(
                gauges_form(self._context, gauge_class, [check.gauge for check in run])
                for gauge_class in _classes(forms)
            ),
            signers=who_may(self._context, Wish("check", item=item.id), self._at),
        )

    def _crimp(self, crimp: Crimp) -> CrimpForm:
        settings = {**SETTINGS, **{point.id: point for point in crimp.points if point.id in SETTINGS}}
        pulled, table, note = self._pull(crimp)
        others = [point for point in crimp.points if point.id not in (PULL, SLUG, *SETTINGS)]
        pieces = [point for point in others if point.part is None] or others
        return CrimpForm(
            id=crimp.id,
            title=crimp.title,
            pieces=tuple(pieces),
            wear=tuple(point for point in others if point not in pieces),
            slugs=tuple(point for point in crimp.points if point.id == SLUG),
            settings=tuple(settings.values()),
            pull=pulled,
            pull_table=table,
            pull_note=note,
            looks=crimp.looks,
        )

    def _pull(self, crimp: Crimp) -> tuple[Point | None, str, Said | None]:
        point = next((point for point in crimp.points if point.id == PULL), None)
        if point is None:
            return None, "", None
        try:
            table = pull.table_of(crimp, self._known.pull_tables)
            least = None if table is None else pull.smallest_of(crimp, table)
        except Refused as refusal:
            return point, "", refusal.said
        if table is not None:
            return replace(point, lower=least), pull.name_of(table), None
        unknown = said("No pull force is set for it: not judged.")
        return point, "", None if point.lower is not None else unknown

    # What is likely

    def _run(self, item: str) -> list[Check]:
        """The checks since its set-up began, in order; none where it hangs on no press."""
        stay = self._context.judge.counts.stay_from(item, self._at)
        if stay is None or (stay.end is not None and stay.end <= self._at):
            return []
        run = checks_of_set_up(self._context, item, self._at)
        return [recorded.entry for recorded in run if isinstance(recorded.entry, Check)]

    def _checks(self, item: str, since: datetime) -> list[Check]:
        entries = self._entries.of_item(item, ("check",), from_at=utc_text(since))
        return [
            recorded.entry
            for recorded in entries
            if isinstance(recorded.entry, Check) and recorded.entry.at <= self._at
        ]

    def _likely_crimp(self, item: str, run: Sequence[Check], known: Sequence[str]) -> str | None:
        if len(known) == 1:
            return known[0]
        for checks in self._looked_back(item, run):
            named = [check.crimp for check in checks if check.crimp in known]
            if named:
                return named[-1]
        return None

    def _looked_back(self, item: str, run: Sequence[Check]) -> Iterator[Sequence[Check]]:
        yield run
        yield self._checks(item, self._at - _LATELY)
        yield self._checks(item, self._known.since[item])


def _classes(forms: Iterable[CrimpForm]) -> list[str]:
    """The classes of gauges that points ask for, in the order in which they do."""
    points = [
        point
        for form in forms
        for point in (*form.pieces, *form.wear, *form.slugs, *form.settings, *filter(None, (form.pull,)))
    ]
    return list(dict.fromkeys(point.gauge_class for point in points if point.gauge_class is not None))
