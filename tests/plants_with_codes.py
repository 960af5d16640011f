"""A small plant that goes by codes, its people, and what they type."""

from __future__ import annotations

from pathlib import Path

from tests.plants import CLEAN, at, book_of, entries_of, person, task
from upkeep.book import Book, Proven
from upkeep.entries.origin import Proof

NOON = at("2026-03-02 12:00")
HALL = "Hall A"

SECRETS = {"ana": "739184", "ben": "205817", "yara": "kettle window seven", "lea": "gravel Tuesday spoon"}
"""The codes and passwords of those who have one: an operator each, a keeper, the lead."""


def codes_plant(folder: Path) -> Book:
    """A book whose plant goes by codes; ``SECRETS`` are chosen, Tom and the second keeper have none yet."""
    book = book_of(
        folder,
        signed_with="codes",
        keepers=["yara", "zoltan"],
        idle_seconds=90,
        hints_agreed="works agreement of 2026-02-01",
        tasks=[CLEAN, task("guard-check", "press", by=["appointed person"], every="1 month", start="2026-03-01")],
        more=[
            person("yara", "Yara Holm", "stores"),
            person("zoltan", "Zoltan Reker", "plant manager"),
            person("ana-tools", "Ana", "set-up technician", same_as="ana"),
            person("agnes", "Agnes Iwar", "appointed person"),
            person("gone", "Gone", "operator", until="2026-03-01"),
        ],
    )
    for key, secret in SECRETS.items():
        naming = book.naming
        first = naming.keys.codes.give_first(key, NOON, is_password=not secret.isdigit())
        naming.choose(key, first, secret, NOON)
    hung = entries_of(book, "2026-03-02 11:00 fit M-12 in P-07 by lea")
    book.write(hung, NOON, proven=Proven("lea", Proof.PASSWORD))
    return book
