"""``python -m tests.mutants``: plants small faults in a copy of the program, one at a time, and tells which are found.

A fault is one node of the syntax tree written another way: another comparison or sign, ``and`` for ``or``, a condition
turned round, a number one greater, arguments swapped, a statement gone, nothing returned.  Run by hand: each mutant
takes the tests of its room, then the stories, then all others, until one fails.  What survives is printed: it is either
no fault at all (another way to the same answer) or a test that is missing.
"""

from __future__ import annotations

import argparse
import tempfile
from collections.abc import Iterable
from pathlib import Path

from demo_plant.environment import ROOT
from tests.mutants.sampling import AIMS, GROUPS, sample
from tests.mutants.trying import Copy, Verdict


def main() -> None:
    """Tries a sample of each group asked for and prints what was found."""
    parser = argparse.ArgumentParser(prog="python -m tests.mutants", description=__doc__)
    parser.add_argument("--of", action="append", choices=GROUPS, metavar="GROUP", help=f"of {', '.join(GROUPS)}")
    parser.add_argument("--number", type=int, default=20, help="mutants of each group")
    parser.add_argument("--seed", type=int, default=1, help="another seed draws others")
    parser.add_argument("--near", action="store_true", help="leave out the tests of other rooms but the stories")
    parser.add_argument("--list", action="store_true", help="only say which they are")
    asked = parser.parse_args()
    drawn = {group: sample(ROOT, group, asked.number, asked.seed) for group in asked.of or GROUPS}
    if asked.list:
        for group, mutants in drawn.items():
            print(f"{group}:", *mutants, sep="\n  ")
        return
    rows = []
    with tempfile.TemporaryDirectory() as folder:
        copy = Copy(ROOT, Path(folder))
        for group, mutants in drawn.items():
            verdicts = [_told(copy.tried(mutant, near=asked.near)) for mutant in mutants]
            rows.append(_row(group, verdicts))
    print("", "| group | mutants | found | aim |", "| --- | --- | --- | --- |", *rows, sep="\n")


def _told(verdict: Verdict) -> Verdict:
    print(f"{'found by ' + verdict.found_by if verdict.found_by else 'SURVIVED'}  {verdict.mutant}", flush=True)
    return verdict


def _row(group: str, verdicts: Iterable[Verdict]) -> str:
    found = [bool(verdict.found_by) for verdict in verdicts]
    share = f"{100 * sum(found) / len(found):.0f} %" if found else "-"
    return f"| {group} | {len(found)} | {sum(found)} ({share}) | {AIMS[group]} % |"


if __name__ == "__main__":
    main()
