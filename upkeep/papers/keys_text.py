"""Who can prove their name, as a page for the terminal."""

from __future__ import annotations

from collections.abc import Iterator

from upkeep.said import Moment, Numeral, Said, in_turn, said
from upkeep.units.instants import Zone
from upkeep.views.keys import KeyHolder, KeysList, TokenLine
from upkeep.wording.sentences import Reader, text
from upkeep.wording.text import paragraph

_NAMES_ONLY = said(
    "Names are taken as given in this plant, so nothing on this list is asked for. 'signed_with = \"codes\"' in "
    "plant.toml changes that."
)


def keys_text(listed: KeysList, zone: Zone, reader: Reader) -> str:
    """Everybody who may sign and what proves their name, then the tokens; for a reader."""
    lines: list[str] = [] if listed.asked else [*paragraph(text(_NAMES_ONLY, reader)), ""]
    for holder in listed.holders:
        lines += paragraph(text(said("{id} {name}: {has}", id=holder.person, name=holder.name,
                                     has=_has(holder, zone)), reader), 0, 4)  # fmt: skip
    for token in listed.tokens:
        lines += ["", *paragraph(text(_token(token, zone), reader), 0, 4)]
    return "\n".join(lines) + "\n"


def _has(holder: KeyHolder, zone: Zone) -> Said:
    return in_turn(*_parts(holder, zone))


def _parts(holder: KeyHolder, zone: Zone) -> Iterator[Said]:
    if holder.has is None:
        yield said("no password yet.") if holder.needs_password else said("no code yet.")
    elif holder.is_first and holder.since is not None:
        yield said("a first {what}, given {since}, not used yet.", what=holder.has, since=Moment(holder.since, zone))
    elif holder.since is not None:
        yield said("a {what} since {since}.", what=holder.has, since=Moment(holder.since, zone))
    if holder.until is not None:
        yield said("Until {until}.", until=holder.until)
    if holder.badges:
        yield said("Badges: {n}.", n=Numeral(holder.badges))


def _token(token: TokenLine, zone: Zone) -> Said:
    since = Moment(token.since, zone)
    if token.until is None:
        return said("Token {name} speaks for {person} since {since}.", name=token.name, person=token.person,
                    since=since)  # fmt: skip
    return said("Token {name} speaks for {person} since {since}, until {until}.", name=token.name,
                person=token.person, since=since, until=token.until)  # fmt: skip
