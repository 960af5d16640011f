"""The tag that travels with a part when it leaves the plant: what it has done, what is known of it, who sends it."""

from __future__ import annotations

from upkeep.papers.board_text import life_text
from upkeep.plant.model import Item
from upkeep.said import Said, said
from upkeep.units.instants import Zone
from upkeep.views.items import HeldItem, LifeNumbers
from upkeep.wording.holds import hold_said
from upkeep.wording.sentences import Reader, lines

_SENT = (
    said("Sent to ______________________  for ______________________  on ____________"),
    said("Sent by: name ______________________  signature ______________________"),
    said("Received back on ____________  by ______________________"),
    said(
        "Receiving inspection before it is fitted: [ ] good  [ ] not to be used.  Name ______________  date __________"
    ),
)


def life_tag_text(item: Item, life: LifeNumbers, held: HeldItem | None, zone: Zone, reader: Reader) -> str:
    """The tag of one item as a page of text."""
    page = [*lines(said("LIFE TAG  {item}  {title}", item=item.id, title=item.title), reader), ""]
    if item.owner is not None:
        page += lines(said("Property of {owner}", owner=item.owner), reader)
    page += life_text(life, zone, reader).rstrip("\n").split("\n")[1:]
    page += lines(_may_run(held), reader, 2)
    page += [line for blank in _SENT for line in ("", *lines(blank, reader))]
    return "\n".join(page) + "\n"


def _may_run(held: HeldItem | None) -> Said:
    if held is None:
        return said("not held")
    return said("HELD, must not run: {why}", why=hold_said(held.reason))
