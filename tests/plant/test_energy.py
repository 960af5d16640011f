"""Energy control: one sentence for each kind, wherever hands may go in."""

from __future__ import annotations

import pytest

from tests.papers.weeks import WEEKS
from tui.present.checking import caution_of
from upkeep.papers.week.week_text import week_text
from upkeep.plant.energy import CONTROL, LOCAL_LAW, caution_said, control_said
from upkeep.plant.model import Energy
from upkeep.quality.symptoms import IN_WORDS, symptoms
from upkeep.wear.slug import CAUTIONS
from upkeep.wording.sentences import ENGLISH

SOURCES = ("local law", "own procedure")


@pytest.mark.parametrize(
    ("energy", "asks"),
    [
        (Energy.UNPLUG, ("unplug", "plug in reach and sight", "bleed", "before hands go in")),
        (Energy.LOCK, ("lock", "bleed the air", "try to start it", "before hands go in")),
        (Energy.LOOK, ("look only", "hands stay out", "guard in place")),
    ],
)
def test_every_kind_says_what_is_done_and_who_decides(energy: Energy, asks: tuple[str, ...]) -> None:
    """The plug stays under control, the air is bled, a start is tried: 29 CFR 1910.147(a)(2), (d)(5) and (d)(6).

    The numbers of the paragraphs are from memory.
    """
    said = str(caution_said(energy)).lower()
    assert all(part in said for part in (*asks, *SOURCES))
    assert set(CONTROL) == set(Energy)


def test_what_else_a_task_cautions_of_stands_before_who_decides() -> None:
    """Who decides is said once."""
    assert str(caution_said("look", "Hot.")) == f"{CONTROL['look']} Hot. {LOCAL_LAW}"
    assert str(caution_said("look", f"Hot. {LOCAL_LAW}")) == f"{CONTROL['look']} Hot. {LOCAL_LAW}"


def test_an_unknown_energy_control_is_taken_as_the_strictest() -> None:
    """A word from a later definition file never lowers a caution."""
    assert str(caution_said("unheard of")).startswith(str(CONTROL[Energy.LOCK]))
    assert control_said("unheard of") == CONTROL[Energy.LOCK]


def test_the_same_words_stand_wherever_hands_go_in() -> None:
    """With every symptom that is worked on, at a slug, at a set-up, and below the weekly list."""
    assert [seen.id for seen in (*symptoms(), IN_WORDS) if CONTROL[Energy.LOCK] not in seen.cautions] == []
    assert CAUTIONS[0] == CONTROL[Energy.LOCK]
    assert all(
        str(CONTROL[Energy.LOCK]) in str(caution_of(occasion)) for occasion in ("slug", "set-up", "as-found", "as-left")
    )
    page = " ".join(week_text(WEEKS["week_mixed"], ENGLISH).split()).lower()
    assert all(str(said).lower().rstrip(".") in page for said in (*CONTROL.values(), LOCAL_LAW))
