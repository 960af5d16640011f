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
        "seen": ("looking", "Say that you have seen what is asked about an item."),
        "life": ("quality.wear", "The strokes of one item, and how it wears."),
        "history": ("looking", "The newest entries, of the plant or of one item."),
        "round": ("looking", "What the operator at one place has to do this shift."),
    },
    "Count and fit": {
        "count": ("entering.counting", "Enter what a press counter shows."),
        "fit": ("entering.counting", "Put an item into another."),
        "unfit": ("entering.counting", "Take an item out of what it sits in."),
        "restart": ("entering.telling", "A counter was set back or replaced."),
        "configure-counter": ("entering.telling", "A counter counts differently from now on."),
        "quantity": ("entering.telling", "Enter the pieces made on a press."),
        "order": ("entering.telling", "Plan an order, and see which limits it would run past."),
        "uncounted": ("entering.telling", "Enter strokes that the press counter did not count."),
        "rework": ("entering.telling", "A part was reworked and granted more strokes."),
        "unknown-life": ("entering.telling", "It is not known how many strokes an item has done."),
    },
    "Sign": {
        "sign": ("entering.signing", "Sign a line as done."),
        "inspect": ("entering.signing", "Sign a graded inspection with its measured points."),
        "verify": ("entering.signing", "Give the second signature on a sign-off."),
        "defer": ("entering.signing", "Put off a due line to a later point, at your own risk."),
        "cancel": ("entering.signing", "Cancel what will not be done; cancelled is not done."),
        "undo": ("entering.signing", "Take back your own last entry, within a minute."),
    },
    "Check pieces and gauges": {
        "check": ("quality.checks", "Enter what was measured on pieces, a slug or the settings."),
        "first-off": ("quality.checks", "One set-up as a page: settings, first and last piece."),
        "chart": ("quality.charting", "Control charts of a characteristic, broken rules in words."),
        "capability": ("quality.charting", "The Ppk of a characteristic with its lower bound."),
        "pulls": ("quality.charting", "What the pull tests say, and what they leave open."),
        "gauge": ("quality.checks", "Whether a gauge is valid, and which results change if it read wrong."),
        "calibrate": ("quality.checks", "Sign the calibration of a gauge with its certificate."),
        "out-of-tolerance": ("quality.checks", "A gauge was found out of tolerance; what it measured is in doubt."),
    },
    "Wear": {
        "slug": ("quality.wear", "The solder slug to crush, and how far the setting has to move."),
        "advise": ("quality.wear", "How often to inspect: proposed, with the arithmetic."),
        "lives": ("quality.wear", "How long the parts of a family live, and whether to replace by age."),
        "retire": ("quality.retiring", "A part is gone for good: worn, broken, or still usable."),
        "picture": ("quality.pictures", "Keep a picture with its checksum, or check those kept."),
    },
    "Suspect product": {
        "suspect": ("quality.suspect", "Which product is suspect: hold lists, and one as a page."),
        "disposition": ("quality.suspect", "Enter the disposition of a line in a hold list."),
        "restrict": ("quality.suspect", "Let a suspect window begin later; signed by quality."),
        "permit": ("quality.suspect", "Deviation permit: a held item may do a number of strokes more."),
    },
    "Faults and holds": {
        "fault": ("quality.faults", "Report something found on an item."),
        "repair": ("quality.faults", "Enter a step on a fault: taken, fixed, verified."),
        "faults": ("quality.faults", "Faults with their times, and who has to know."),
        "causes": ("quality.faults", "Likely causes of a symptom, by the plant's own records."),
        "hold": ("quality.findings", "Hold an item: it must not run until released."),
        "release": ("quality.findings", "Release a held item."),
        "pause": ("quality.findings", "Put an item into storage or out of use."),
        "resume": ("quality.findings", "Bring an item back from storage."),
        "happened": ("quality.findings", "Tell of an event that asks for work: a press moved, a guard off."),
        "remark": ("quality.findings", "Tell the lead something about an item or a task on it."),
    },
    "Correct": {
        "correct": ("entering.mending", "Correct an entry with another; both stay visible."),
        "settle": ("entering.mending", "Settle which of two counts is wrong."),
        "strike": ("entering.mending", "Strike an entry that was never true."),
    },
    "Type in": {
        "enter": ("entering.mending", "Write entry lines from a file."),
        "sheet": ("entering.paper", "Enter a weekly list that has come back, by row number."),
        "stated": ("entering.paper", "Load the dates when work was last done before the book began."),
    },
    "Who is here": {
        "rights": ("rights", "Who may do what in this plant, and who keeps its book."),
        "hints": ("hints", "What stands out in how work was signed; for the lead."),
        "looked-again": ("hints", "Say what you saw at work that was drawn for another look."),
        "keys": ("keys", "Who has a code, password or badge; which tokens there are."),
        "code": ("keys", "Give somebody a first code, or make it void."),
        "own-code": ("keys", "Choose your own code or password."),
        "badge": ("keys", "Give somebody a badge, or make lost ones void."),
        "token": ("keys", "Make a token with which a program signs, or withdraw it."),
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
