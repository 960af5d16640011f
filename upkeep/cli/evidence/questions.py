"""What an auditor asks, and by which answers of this program each question is answered: one table.

The questions are those that audits of tooling commonly bring up (common practice, no source).  A command that answers
one is added to its line.
"""

from __future__ import annotations

from upkeep.frozen import frozen
from upkeep.said import Said, said

ITEM, GAUGE, HOLD_LIST = "{item}", "{gauge}", "{list}"
"""Stand in a command for each die set chosen, each gauge, each hold list."""

CORRECTIONS, RESTORATIONS, KEPT = "corrections", "restorations", "kept"
"""What is told of the entries themselves, without a command."""


@frozen
class Question:
    """A question: the commands whose answers go with it, what is told of the entries themselves, and what the plant has
    to show beside that or instead (None: nothing)."""

    number: int
    asks: Said
    commands: tuple[tuple[str, ...], ...] = ()
    of_entries: str = ""
    beside: Said | None = None


QUESTIONS: tuple[Question, ...] = (
    Question(
        1, said("The evidence for a die set on a day."),
        (("dossier", ITEM), ("life", ITEM), ("history", ITEM, "--limit", "200")),
        beside=said("For another die set or day: strokebook evidence FOLDER --item ID --at DAY."),
    ),
    Question(2, said("Who changed an interval, when, why, and what it was before."), (("changes",), ("figures",))),
    Question(
        3, said("Which die sets made a batch."), (("trace", ITEM), ("where",)),
        beside=said("For one order, reel or batch: strokebook trace ID."),
    ),
    Question(4, said("What was done when a check failed."), (("suspect", "--all"), ("suspect", HOLD_LIST))),
    Question(5, said("Who may sign what, and trained since when."), (("signers",), ("rights",))),
    Question(6, said("Whether a gauge was valid at the time."), (("gauge",), ("gauge", GAUGE))),
    Question(7, said("What was late, and what was done about it."), (("late",), ("figures",))),
    Question(
        8, said("Which revision of an instruction was used."), (("changes",),),
        beside=said("Each task with its steps and limits stands in the entries 'define task' of entries.csv, with day, "
                    "name and reason; the one before a sign-off is the one that was used."),
    ),
    Question(
        9, said("Customer-owned tooling: where it is, how it is marked, its condition."), (("where",),),
        beside=said("How it is marked is seen on the tool itself."),
    ),
    Question(10, said("Spares for key equipment."), (("shelf",), ("to-order",))),
    Question(
        11, said("The objective, and the trend."), (("figures",),),
        beside=said("An objective is the plant's own and stands in no book: the plant shows it beside these figures."),
    ),
    Question(
        12, said("How you know that the counts are right."), (("quality-of-data",), ("questions",)),
        beside=said("That all of it follows from the entries shows strokebook prove, which replays them all."),
    ),
    Question(13, said("A correction: old value, new value, reason."), of_entries=CORRECTIONS),
    Question(14, said("How long it is kept."), of_entries=KEPT),
    Question(
        15, said("Restore a backup."), of_entries=RESTORATIONS,
        beside=said("To be shown: strokebook restore BACKUP --book TRIAL --by ID, then strokebook prove."),
    ),
    Question(16, said("How die sets on outside rework are followed."), (("outside", "--all"),)),
    Question(
        17, said("Whether the due list on the board is the one in the system."), (("week",), ("board", "--all")),
        beside=said("The paper on the wall has a seal: strokebook seal check says which entry it is."),
    ),
    Question(18, said("Verification of a set-up: first piece and last piece."), (("first-off", ITEM),)),
)  # fmt: skip
"""The eighteen."""
