"""Every command: its section on the help page, the module that holds it, and what it does."""

from __future__ import annotations

SECTIONS: dict[str, dict[str, tuple[str, str]]] = {
    "Begin": {
        "demo": ("demo", "Build the demo plant's book and open it."),
        "new": ("plant", "Make a book from definition files, or load changed ones."),
        "screens": ("screens", "Open the screens: board, round, sign-off."),
    },
    "Look": {
        "board": ("looking", "What is due and overdue, most urgent first."),
        "why": ("looking", "Why one line is due, with its arithmetic."),
        "forecast": ("looking", "When a line will be due by its strokes, and how sure that is."),
        "questions": ("looking", "Questions about the counts that only a person can answer."),
        "life": ("wear", "The strokes of one item, and how it wears."),
        "history": ("looking", "The newest entries, of the plant or of one item."),
        "round": ("looking", "What the operator at one place has to do this shift."),
    },
    "Count and fit": {
        "count": ("counting", "Enter what a press counter shows."),
        "fit": ("counting", "Put an item into another."),
        "unfit": ("counting", "Take an item out of what it sits in."),
        "restart": ("telling", "A counter was set back or replaced."),
        "configure-counter": ("telling", "A counter counts differently from now on."),
        "quantity": ("telling", "Enter the pieces made on a press."),
        "order": ("telling", "Plan an order, and see which limits it would run past."),
        "uncounted": ("telling", "Enter strokes that the press counter did not count."),
        "rework": ("telling", "A part was reworked and granted more strokes."),
        "unknown-life": ("telling", "It is not known how many strokes an item has done."),
    },
    "Sign": {
        "sign": ("signing", "Sign a line as done."),
        "inspect": ("signing", "Sign a graded inspection with its measured points."),
        "verify": ("signing", "Give the second signature on a sign-off."),
        "defer": ("signing", "Put off a due line to a later point, at your own risk."),
        "cancel": ("signing", "Cancel what will not be done; cancelled is not done."),
        "undo": ("signing", "Take back your own last entry, within a minute."),
    },
    "Check pieces and gauges": {
        "check": ("checks", "Enter what was measured on pieces, a slug or the settings."),
        "first-off": ("checks", "One set-up as a page: settings, first and last piece."),
        "chart": ("charting", "Control charts of a characteristic, broken rules in words."),
        "capability": ("charting", "The Cpk of a characteristic with its lower bound."),
        "pulls": ("charting", "What the pull tests say, and what they leave open."),
        "gauge": ("checks", "Whether a gauge is valid, and which results change if it read wrong."),
        "out-of-tolerance": ("checks", "A gauge was found out of tolerance; what it measured is in doubt."),
    },
    "Wear": {
        "slug": ("wear", "The solder slug to crush, and how far the setting has to move."),
        "advise": ("wear", "How often to inspect: proposed, with the arithmetic."),
        "lives": ("wear", "How long the parts of a family live, and whether to replace by age."),
        "retire": ("wear", "A part is gone for good: worn, broken, or still usable."),
        "picture": ("pictures", "Keep a picture with its checksum, or check those kept."),
    },
    "Suspect product": {
        "suspect": ("suspect", "Which product is suspect: hold lists, and one as a page."),
        "disposition": ("suspect", "Enter the disposition of a line in a hold list."),
        "restrict": ("suspect", "Let a suspect window begin later; signed by quality."),
        "permit": ("suspect", "Deviation permit: a held item may do a number of strokes more."),
    },
    "Faults and holds": {
        "fault": ("faults", "Report something found on an item."),
        "repair": ("faults", "Enter a step on a fault: taken, fixed, verified."),
        "faults": ("faults", "Faults with their times, and who has to know."),
        "causes": ("faults", "Likely causes of a symptom, by the plant's own records."),
        "hold": ("findings", "Hold an item: it must not run until released."),
        "release": ("findings", "Release a held item."),
        "pause": ("findings", "Put an item into storage or out of use."),
        "resume": ("findings", "Bring an item back from storage."),
        "remark": ("findings", "Tell the lead something about an item or a task on it."),
    },
    "Correct": {
        "correct": ("mending", "Correct an entry with another; both stay visible."),
        "strike": ("mending", "Strike an entry that was never true."),
    },
    "Type in": {
        "enter": ("mending", "Write entry lines from a file."),
        "sheet": ("paper", "Enter a weekly list that has come back, by row number."),
        "stated": ("paper", "Load the dates when work was last done before the book began."),
    },
    "Print and keep": {
        "week": ("week", "The weekly due list as text or PDF."),
        "figures": ("figures", "How much was done on time, and how that is defined."),
        "export": ("keeping", "Print every entry as one line of text."),
        "prove": ("keeping", "Replay the book and compare it with itself."),
        "refill": ("keeping", "Rebuild everything computed from the entries."),
        "backup": ("keeping", "Copy the book while it is in use, and prove the copy."),
        "restore": ("keeping", "Put a proven backup in the place of the book."),
        "serve": ("serve", "Run unattended: weekly lists, backups, dropped files."),
    },
}
"""The commands by section, in the order in which a newcomer needs them."""

COMMANDS = {name: command for section in SECTIONS.values() for name, command in section.items()}
"""Every command by name."""
