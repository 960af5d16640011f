"""Something was found: eight symptoms first, the item by the symptom, stopped or not, and a photo."""

from __future__ import annotations

from collections.abc import Sequence

from upkeep.frozen import frozen
from upkeep.quality.symptoms import FIRST, IN_WORDS, OTHER, Symptom, item_of, symptoms
from upkeep.said import Said, said, term
from upkeep.station.pages.options import Option
from upkeep.views.items import Hanging


@frozen
class Tile:
    """A symptom to touch: its id and its words."""

    id: str
    says: Said


@frozen
class SymptomsPage:
    """The first symptoms, all the others, and the way to words of one's own."""

    first: tuple[Tile, ...]
    others: tuple[Tile, ...]
    own: str = OTHER


@frozen
class FoundPage:
    """One symptom: its cautions, the item it is about, and whether that has to stop.

    ``runs`` is the button that lets it run (None: only maintenance may touch it); ``asks`` is the field for words
    ("" asks for none that are needed); ``typed`` what stands in it.
    """

    symptom: str
    cautions: tuple[Said, ...]
    items: tuple[Option, ...]
    which: Said
    asks: Said
    typed: str
    needs_words: bool
    stops: Said
    runs: Said | None
    title: Said


def symptoms_page() -> SymptomsPage:
    """All symptoms, the eight most frequent first."""
    known = {symptom.id: symptom for symptom in symptoms()}
    first = [known[key] for key in FIRST if key in known]
    others = [symptom for symptom in symptoms() if symptom.id not in FIRST]
    return SymptomsPage(tuple(map(_tile, first)), tuple(map(_tile, others)))


def _tile(symptom: Symptom) -> Tile:
    return Tile(symptom.id, term(symptom.title))


def found_page(symptom: Symptom, hanging: Sequence[Hanging], typed: str = "", item: str | None = None) -> FoundPage:
    """Asks which item a symptom was seen on, and whether it has to stop."""
    chosen = item or item_of(symptom.id, ((one.item, one.kind) for one in hanging))
    words = symptom is IN_WORDS
    return FoundPage(
        symptom=symptom.id,
        cautions=symptom.cautions,
        items=tuple(
            Option(one.item, said("{item} {kind}", item=one.item, kind=term(one.kind, "kind")), one.item == chosen)
            for one in hanging
        ),
        which=said("Found on"),
        asks=said("What you see, in your own words") if words else said("More about it, if it helps"),
        typed=typed,
        needs_words=words,
        stops=said("It must STOP: hold it"),
        runs=None if symptom.maintenance_only else said("It goes on running"),
        title=term(symptom.title) if not words else said("Something else"),
    )


def words_of(symptom: Symptom, typed: str) -> str:
    """What the fault is called: the symptom's title with what was typed after it, or the words alone."""
    typed = " ".join(typed.split())
    if symptom is IN_WORDS:
        return typed
    return f"{symptom.title}: {typed}" if typed else symptom.title


LACKS_WORDS = said("Type what you see, in your own words.")
LACKS_ITEM = said("Choose the item it was found on.")
