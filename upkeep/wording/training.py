"""That a training ends, in words."""

from __future__ import annotations

from upkeep.said import Said, Value, said, said_many
from upkeep.views.training import TrainingEnd


def training_said(end: TrainingEnd) -> Said:
    """Whose training ends, or has ended, and from when on there is another."""
    given: dict[str, Value] = {"name": end.name, "work": end.work, "day": end.last_day}
    if end.again is not None and end.days < 0:
        return said(
            "{name} may not work on {work}: the training ran out on {day}, the next is valid from {again}.",
            again=end.again, **given,
        )  # fmt: skip
    if end.days < 0:
        return said("{name} may not work on {work}: the training ran out on {day}.", **given)
    if end.days == 0:
        return said("Training of {name} for {work} ends today, {day}.", **given)
    return said_many(
        "Training of {name} for {work} ends on {day}, in {n} day.",
        "Training of {name} for {work} ends on {day}, in {n} days.",
        n=end.days, **given,
    )  # fmt: skip
