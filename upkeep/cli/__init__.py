"""The command line: trade verbs over a book.  Reads the clock; owns stdout, stderr and the exit codes.

Exit codes: 0 done, 1 refused with a reason, 2 wrong usage.
"""

from __future__ import annotations

import gc
import os
import sys

from upkeep.cli.reader.language import ENGLISH, language_of


def main() -> None:
    """The command ``strokebook``.  Its own help page is kept ready made, since people ask for it while they wait."""
    if sys.argv[1:] in ([], ["--help"], ["-h"]) and language_of(os.environ) == ENGLISH:
        with open(__file__.replace("__init__.py", "help.txt"), encoding="utf-8") as page:
            sys.stdout.write(page.read())
        return
    gc.set_threshold(50_000, 20, 20)  # classes and rows by the thousand are made to stay
    from upkeep.cli.run import run

    sys.exit(run(sys.argv[1:]))
