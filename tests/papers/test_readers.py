"""Pages speak to whoever reads them."""

from datetime import UTC, datetime

from upkeep.papers.board_text import questions_text
from upkeep.said import Moment, said
from upkeep.units.instants import Zone
from upkeep.views.questions import Question
from upkeep.wording.sentences import ENGLISH, Reader

COUNTED = datetime(2026, 3, 2, 5, 0, tzinfo=UTC)
ASKED = Question(
    "P-07", COUNTED, said("Not counted since {moment}.", moment=Moment(COUNTED, Zone("Europe/Berlin"), to_minute=True))
)


def test_a_page_shows_moments_in_the_zone_of_its_reader() -> None:
    """Whoever reads from afar is not left to reckon; without a zone of the reader's own it is the plant's."""
    assert "2026-03-02 06:00" in questions_text([ASKED], ENGLISH)
    assert "2026-03-02 14:00" in questions_text([ASKED], Reader(zone=Zone("Asia/Tokyo")))
