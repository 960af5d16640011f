"""A slug height that jumps stops the set: by more than its usual scatter between checks explains."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.plants import at, book_of, define, item, write, write_each
from upkeep.book import Book

SLUG = {"id": "slug-height", "title": "Slug", "unit": "mm", "lower": 1.1, "upper": 1.3, "readings": 1}
MORE = (
    define("crimp", "CR-1", title="Tab on 0.5", family="tab", points=[SLUG]),
    item("DS-031", kind="die set", family="tab", place="rack"),
)
SLOW = (1.200, 1.202, 1.201, 1.203, 1.204, 1.203)


def slug(day: int, height: float) -> str:
    """The line of a slug check."""
    return f"2026-03-{day:02d} 08:00 check DS-031 slug of CR-1 with G-1 slug-height={height} by ana"


@pytest.fixture
def book(tmp_path: Path) -> Iterator[Book]:
    """A set whose slug grows slowly, over six checks."""
    text = "\n".join(["2026-03-02 06:00 fit CP-a in DS-031 by ana", *(slug(2 + n, h) for n, h in enumerate(SLOW))])
    with book_of(tmp_path, text, more=MORE) as opened:
        yield opened


def test_slow_wear_stops_nothing(book: Book) -> None:
    """Within the usual scatter it goes on."""
    assert not write(book, slug(9, 1.206)).notes
    assert book.holds() == ()


def test_a_jump_stops_the_set_though_it_is_within_its_limits(book: Book) -> None:
    """Mean 1.2022 mm, scatter 1.47 um, which Student's t and the root of 1 + 1/6 make 6 um: it jumped by 18."""
    note = next(one for one in write(book, slug(9, 1.220)).notes if str(one).startswith("STOP"))
    assert "the slug height jumped by +0.018 mm from what the 6 checks before it lead to expect" in str(note)
    assert "99 steady checks in 100 stay within 0.006 mm of it" in str(note)
    assert "slug-jump" in book.holds()[0].points


def test_a_jump_is_asked_about_until_it_is_seen_or_the_set_is_released(book: Book) -> None:
    """Measured good again it runs, and the lead has to know all the same; quality's word does too."""

    def asked() -> list[str]:
        return [str(one.asks) for one in book.questions(at("2026-03-20 08:00")) if one.about == "DS-031"]

    write_each(book, "\n".join([slug(9, 1.220), slug(10, 1.204)]))
    assert book.holds() == ()
    (jump,) = asked()
    assert jump.startswith("The slug height of DS-031 jumped at 2026-03-09 08:00 (#")
    assert [one.about for one in book.week(at("2026-03-10 09:00")).waiting] == ["DS-031"]
    write(book, "2026-03-10 09:00 seen DS-031 since 2026-03-09T08:00:00Z by lea")
    assert asked() == []
    write(book, slug(11, 1.221))
    assert len(asked()) == 1
    write(book, '2026-03-12 08:00 release DS-031 by lea because "seat tightened, first piece good"')
    assert asked() == []


def test_measured_again_where_it_was_the_hold_is_lifted_and_where_it_jumped_to_it_stays(book: Book) -> None:
    """A bad reading goes away by itself; a real jump waits for somebody who looks, and is then the new level."""
    write(book, slug(9, 1.220))
    write(book, slug(10, 1.204))
    assert book.holds() == ()
    write_each(book, "\n".join([slug(11, 1.220), slug(12, 1.221)]))
    assert "slug-jump" in book.holds()[0].points
    write(book, '2026-03-13 08:00 release DS-031 by lea because "seat tightened, first piece good"')
    assert not write(book, slug(14, 1.220)).notes
    assert book.holds() == ()
    assert book.prove().clean


def test_after_a_jump_that_was_released_what_is_usual_is_learnt_anew(book: Book) -> None:
    """Four checks at the new level, then one 16 um off it, which is no more than old and new level are apart."""
    write(book, slug(9, 1.220))
    write(book, '2026-03-10 08:00 release DS-031 by lea because "seat tightened, first piece good"')
    for day, height in enumerate((1.220, 1.221, 1.219, 1.220), 11):
        assert not write(book, slug(day, height)).notes
    note = next(one for one in write(book, slug(15, 1.236)).notes if str(one).startswith("STOP"))
    assert "jumped by +0.016 mm from what the 4 checks before it lead to expect" in str(note)
    assert book.prove().clean


SISTER = item("DS-032", kind="die set", family="tab", place="rack")
OTHER_KIND = item("G-2", kind="gauge", gauge_class="caliper")
STEADY = (1.210, 1.212, 1.211, 1.213, 1.209, 1.211, 1.212, 1.210, 1.211, 1.213)


def young(path: Path, gauge: str = "G-1", crimp: str = "CR-1") -> Book:
    """DS-031 with four checks, and beside it DS-032 of the same family with ten."""
    sister = "\n".join(
        f"2026-03-{2 + n:02d} 07:00 check DS-032 slug of {crimp} with {gauge} slug-height={height} by ana"
        for n, height in enumerate(STEADY)
    )
    own = "\n".join(slug(2 + n, height) for n, height in enumerate(SLOW[:4]))
    other_crimp = define("crimp", "CR-2", title="Tab on 1.0", family="tab", points=[SLUG])
    return book_of(path, f"{sister}\n{own}", more=(*MORE, SISTER, OTHER_KIND, other_crimp))


def test_a_set_with_few_checks_is_judged_by_the_scatter_of_its_sisters_too(tmp_path: Path) -> None:
    """8 um off after four checks: no jump for what these four tell, one for what the ten of the sister tell besides."""
    with young(tmp_path) as book:
        note = next(str(one) for one in write(book, slug(12, 1.2095)).notes if str(one).startswith("STOP"))
        assert "jumped by +0.008 mm from what the 4 checks before it lead to expect" in note
        assert "stay within 0.004 mm of it, as this set and DS-032 scatter." in note
        assert book.prove().clean


@pytest.mark.parametrize(("gauge", "crimp"), [("G-2", "CR-1"), ("G-1", "CR-2")])
def test_another_kind_of_gauge_or_another_crimp_makes_no_sister(tmp_path: Path, gauge: str, crimp: str) -> None:
    """Its scatter is that of something else; a jump found then says that the set stands alone."""
    with young(tmp_path, gauge, crimp) as book:
        assert not write(book, slug(12, 1.2095)).notes
        note = next(str(one) for one in write(book, slug(13, 1.240)).notes if str(one).startswith("STOP"))
        assert "as this set alone scatters: no other of its family tells more" in note


def test_another_punch_begins_anew(book: Book) -> None:
    """What the old one measured says nothing about the new one."""
    write_each(book, "2026-03-09 06:00 unfit CP-a by ana\n2026-03-09 06:00 fit CP-b in DS-031 by ana")
    assert not write(book, slug(9, 1.180)).notes
