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
        "forecast": ("looking", "When a line will be due by strokes, and how sure that is."),
        "questions": ("looking", "What the counts leave open, for a person to answer."),
        "life": ("quality.wear", "The strokes of one item, and how it wears."),
        "history": ("looking", "The newest entries, of the plant or of one item."),
        "round": ("looking", "What one place asks of its operator this shift."),
    },
    "Count and fit": {
        "count": ("entering.counting", "Write down what a press counter shows."),
        "fit": ("entering.counting", "Put an item into another."),
        "unfit": ("entering.counting", "Take an item out of what it sits in."),
        "restart": ("entering.telling", "A counter shows another figure: set back, or replaced."),
        "configure-counter": ("entering.telling", "How a counter counts from here on."),
        "quantity": ("entering.telling", "Pieces made on a press."),
        "order": ("entering.telling", "Plan an order, and see what it would run over."),
        "uncounted": ("entering.telling", "Strokes the press counter did not count."),
        "rework": ("entering.telling", "A part was reworked and granted more strokes."),
        "unknown-life": ("entering.telling", "Nobody knows what an item has done."),
    },
    "Sign": {
        "sign": ("entering.signing", "Sign a line as done."),
        "inspect": ("entering.signing", "Sign a graded inspection with its measured points."),
        "verify": ("entering.signing", "Give the second signature on a sign-off."),
        "defer": ("entering.signing", "Move a due line to a later point, at somebody's risk."),
        "cancel": ("entering.signing", "Cancel what will not be done; cancelled is not done."),
        "undo": ("entering.signing", "Take back your own last entry, within a minute."),
    },
    "Check pieces and gauges": {
        "check": ("quality.checks", "Write down what was measured on pieces, a slug or the settings."),
        "first-off": ("quality.checks", "One set-up as a page: settings, first and last piece."),
        "chart": ("quality.charting", "Control charts of a characteristic, broken rules in words."),
        "capability": ("quality.charting", "The Cpk of a characteristic with its lower bound."),
        "pulls": ("quality.charting", "What the pull tests say, and what they leave open."),
        "gauge": ("quality.checks", "Whether a gauge counts, and which results turn if it was wrong."),
        "out-of-tolerance": ("quality.checks", "A gauge was found out of tolerance; what it measured is in doubt."),
    },
    "Wear": {
        "slug": ("quality.wear", "The solder slug to crush, and how far the setting has to move."),
        "advise": ("quality.wear", "How often to inspect: proposed, with the arithmetic."),
        "lives": ("quality.wear", "How long the parts of a family live, and whether to replace by age."),
        "retire": ("quality.wear", "A part leaves for ever: worn, broken, or still good."),
        "picture": ("quality.pictures", "Keep a picture with its checksum, or look after those kept."),
    },
    "Suspect product": {
        "suspect": ("quality.suspect", "Which product is suspect: hold lists, and one as a page."),
        "disposition": ("quality.suspect", "What is decided about a line of a hold list."),
        "restrict": ("quality.suspect", "Let a suspect window begin later; quality signs."),
        "permit": ("quality.suspect", "A deviation permit: a held item may do so many strokes more."),
    },
    "Faults and holds": {
        "fault": ("quality.faults", "Report something found on an item."),
        "repair": ("quality.faults", "Write down a step on a fault: taken, fixed, verified."),
        "faults": ("quality.faults", "Faults with their times, and who has to know."),
        "causes": ("quality.faults", "Likely causes of a symptom, by the plant's own records."),
        "hold": ("quality.findings", "Hold an item: it must not run until released."),
        "release": ("quality.findings", "Release a held item."),
        "pause": ("quality.findings", "Put an item into storage or out of use."),
        "resume": ("quality.findings", "Bring an item back from storage."),
        "remark": ("quality.findings", "Tell the lead something about an item or a task on it."),
    },
    "Correct": {
        "correct": ("entering.mending", "Correct an entry by another; both stay visible."),
        "strike": ("entering.mending", "Strike an entry that never was true."),
    },
    "Type in": {
        "enter": ("entering.mending", "Write entry lines from a file."),
        "sheet": ("entering.paper", "Enter a weekly list that came back, by its row numbers."),
        "stated": ("entering.paper", "Load when work was last done before the book began."),
    },
    "Print and keep": {
        "week": ("week", "The weekly due list as text or PDF."),
        "figures": ("figures", "How much was done on time, with its definition."),
        "export": ("keeping", "Print every entry as its one line of text."),
        "prove": ("keeping", "Re-play the book and compare it with itself."),
        "refill": ("keeping", "Compute everything anew from the entries."),
        "backup": ("keeping", "Copy the book while it is in use, and prove the copy."),
        "restore": ("keeping", "Make a proven backup the book again."),
        "serve": ("serve", "Keep the book by itself: lists, backups, dropped files."),
    },
}
"""The commands by section, in the order in which a newcomer needs them."""

COMMANDS = {name: command for section in SECTIONS.values() for name, command in section.items()}
"""Every command by name."""
