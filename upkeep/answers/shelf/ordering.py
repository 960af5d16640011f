"""What to order, and by which day."""

from __future__ import annotations

from datetime import date

from upkeep.answers.shelf.demand import Demands
from upkeep.answers.shelf.stock import Shelf
from upkeep.keeping.context import Context
from upkeep.planning.shelf.reorder import Coming, order_plan
from upkeep.progress import Watch, nobody, watched
from upkeep.views.overview.shelf import OrderList, OrderRow


def order_list(context: Context, watch: Watch = nobody) -> OrderList:
    """Every spare that something is used of, the one to order first on top; those nobody knows a lead time of apart.

    ``watch`` is told how many spares were gone through.
    """
    shelf, spares = Shelf(context), context.known.spares
    demands, today = Demands(context, shelf), context.known.zone.day(context.moment)
    rows, unknown = [], []
    for key in watched(sorted(spares), "judging", len(spares), watch):
        spare = spares[key]
        row = shelf.row(spare)
        if row.obsolete:
            continue
        if spare.lead_days is None:
            unknown.append(row)
            continue
        demand = demands.of(spare)
        plan = order_plan(
            row.number, [Coming(one.expected, one.number) for one in row.coming], demand, lead_days=spare.lead_days,
            service=spare.service, least=spare.least, pack=spare.pack, today=today,
        )  # fmt: skip
        rows.append(
            OrderRow(
                shelf=row, due=demand.due, past=demand.past, mean=plan.mean, level=plan.level, service=spare.service,
                least=spare.least, position=plan.position, order_by=plan.order_by, now=plan.is_due(today),
                number=plan.number, comes=plan.comes, lasts_until=plan.lasts_until,
                short_percent=round(100 * plan.chance_short),
            )
        )  # fmt: skip
    rows.sort(key=lambda row: (row.order_by or date.max, row.lasts_until or date.max, row.shelf.spare))
    return OrderList(context.known.facts.name, context.moment, tuple(rows), tuple(unknown))
