"""The chain, worked out again from what is written about it, with nothing of the program but its rows."""

from __future__ import annotations

import hmac
import re
from hashlib import sha256
from itertools import combinations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from demo_plant.environment import ROOT
from tests.entries.test_text import entries
from upkeep.entries.chain import Facts, Open, Shown, digest, follows, link, shown
from upkeep.entries.entry import Entry
from upkeep.entries.kind import Filed
from upkeep.entries.row import EntryRow
from upkeep.store.entry_rows import row_of

BEFORE = sha256(b"what stands before").digest()
SALT = bytes(range(16))
EXAMPLE = EntryRow(
    id=23, at="2026-03-02T06:05:00Z", recorded_at="2026-03-02T06:07:00Z", kind="fault", item="M-12", task=None,
    words='fault M-12 "burr" listed burr stopped', by="ben", shift_day="2026-03-02", about=None, corrects=None,
    because="seen at first-off", way_in="screen", station="Hall A", proof="code", entered_by="lea",
    salt=SALT, hash=bytes(32),
)  # fmt: skip
"""The entry that DEVELOPERS.md works out by hand."""

salts = st.binary(min_size=16, max_size=16)


def netstring(text: str) -> bytes:
    encoded = text.encode()
    return str(len(encoded)).encode() + b":" + encoded + b","


def hidden(salt: bytes, name: str, value: str | None) -> bytes:
    if not value:
        return bytes(32)
    field_salt = hmac.new(salt, name.encode(), sha256).digest()
    return sha256(netstring(f"strokebook 1 {name}") + field_salt + value.encode()).digest()


def by_hand(row: EntryRow) -> dict[str, bytes]:
    """Every hash on the way to the digest, and the digest itself, one after another."""
    plain, texts = words_apart(row.words)
    facts = [
        "strokebook 1 facts", str(row.id), row.at, row.recorded_at, row.shift_day,
        "" if row.corrects is None else str(row.corrects), row.way_in or "", row.proof or "", plain,
    ]  # fmt: skip
    hashes = {"facts": sha256(b"".join(map(netstring, facts))).digest()}
    names = {"by": row.by, "entered by": row.entered_by, "station": row.station, "because": row.because}
    names |= {f"text {place}": text for place, text in enumerate(texts, 1)}
    hashes |= {name: hidden(row.salt, name, value) for name, value in names.items()}
    hashes["digest"] = sha256(netstring("strokebook 1 entry") + b"".join(hashes.values())).digest()
    return hashes


def words_apart(words: str) -> tuple[str, list[str]]:
    """The plain words and the hidden texts, character by character."""
    plain, texts, place = "", [], 0
    while place < len(words):
        end = place + 1
        if words[place] == '"':
            while words[end] != '"':
                end += 2 if words[end] == "\\" else 1
            end += 1
        elif words[place] == "{":
            end = len(words)
        elif words[:place] == "define person ":
            end = words.index(" ", place)
        else:
            plain, place = plain + words[place], end
            continue
        texts.append(words[place:end])
        plain, place = plain + "{}", end
    return plain, texts


@settings(max_examples=300, deadline=None)
@given(entry=entries, number=st.integers(0, 10**9), salt=salts)
def test_a_digest_is_what_its_description_gives(entry: Entry, number: int, salt: bytes) -> None:
    """Whatever is written into an entry, worked out a second time from the page about it."""
    row = row_of(number, entry, "2026-03-02", Filed(None), salt)
    assert digest(row) == by_hand(row)["digest"]


def test_the_example_of_the_page_for_builders_is_worked_out_right() -> None:
    """Each value on the way stands there in hexadecimal."""
    page = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
    section = page.partition("## What is hashed, and how")[2].partition("\n## ")[0]
    given_values = re.findall(r"[0-9a-f]{32,}", section)
    hashes = by_hand(EXAMPLE)
    field_salts = [hmac.new(SALT, name.encode(), sha256).digest() for name in list(hashes)[1:-1]]
    expected = [SALT, BEFORE, *hashes.values(), *field_salts, sha256(BEFORE + hashes["digest"]).digest()]
    assert set(given_values) == {value.hex() for value in expected}
    assert link(BEFORE, digest(EXAMPLE)) == expected[-1]


HIDDEN = ("by", "entered by", "station", "because", "text 1")


@pytest.mark.parametrize("kept_back", [names for length in range(6) for names in combinations(HIDDEN, length)])
def test_names_and_texts_are_kept_back_and_the_chain_is_checked_all_the_same(kept_back: tuple[str, ...]) -> None:
    """Any of them: what is shown holds neither the value of what is kept back nor a salt to try values with."""
    after = link(BEFORE, digest(EXAMPLE))
    seen = shown(EXAMPLE, kept_back)
    assert follows(seen, BEFORE, after)
    assert {name for name, field in seen.hidden.items() if isinstance(field, bytes)} == set(kept_back)
    told = repr(seen)
    for name, value in zip(HIDDEN, ("'ben'", "'lea'", "Hall A", "seen at first-off", '"burr"'), strict=True):
        assert (value in told) == (name not in kept_back)
    assert EXAMPLE.salt not in [field.salt for field in seen.hidden.values() if isinstance(field, Open)]


@settings(max_examples=200, deadline=None)
@given(entry=entries, salt=salts, data=st.data())
def test_every_entry_can_be_shown_with_any_of_its_fields_kept_back(
    entry: Entry, salt: bytes, data: st.DataObject
) -> None:
    """And what is shown proves the entry between its two links, and between no others."""
    row = row_of(12, entry, "2026-03-02", Filed(None), salt)
    after = link(BEFORE, digest(row))
    names = sorted(shown(row).hidden)
    seen = shown(row, data.draw(st.sets(st.sampled_from(names))))
    assert follows(seen, BEFORE, after)
    assert not follows(seen, after, after)


def test_what_is_shown_cannot_be_another_entry() -> None:
    """One character of a fact, of an open field, of its salt or of a hash: it no longer follows."""
    after = link(BEFORE, digest(EXAMPLE))
    seen = shown(EXAMPLE, {"because"})
    changed = [Shown(seen.facts._replace(**{name: "x"}), seen.hidden) for name in Facts._fields]
    for name, field in seen.hidden.items():
        others = [sha256(field).digest()] if isinstance(field, bytes) else [
            field._replace(value=field.value + "x"), field._replace(salt=sha256(field.salt).digest()),
        ]  # fmt: skip
        changed += [Shown(seen.facts, {**seen.hidden, name: other}) for other in others]
        changed.append(Shown(seen.facts, {key: one for key, one in seen.hidden.items() if key != name}))
    assert [follows(other, BEFORE, after) for other in changed] == [False] * len(changed)
    assert len(changed) == 22


def test_every_column_that_is_not_only_a_place_is_in_the_digest() -> None:
    """Where an entry is filed follows from its words, and the proof compares it; all else is hashed."""
    other = {
        "id": 24, "at": "2026-03-02T06:05:01Z", "recorded_at": "2026-03-02T06:08:00Z",
        "words": f"{EXAMPLE.words} crash",
        "by": "tom", "shift_day": "2026-03-03", "corrects": 5, "because": "", "way_in": None, "station": None,
        "proof": "none", "entered_by": "ana", "salt": bytes(16),
    }  # fmt: skip
    assert {*other, "kind", "item", "task", "about", "hash"} == set(EntryRow._fields)
    digests = {digest(EXAMPLE._replace(**{name: value})) for name, value in other.items()}  # type: ignore[arg-type]
    assert len(digests | {digest(EXAMPLE)}) == len(other) + 1


def test_the_same_text_in_two_entries_has_two_hashes() -> None:
    """So nobody sees from the hashes alone who signed often."""
    again = shown(EXAMPLE._replace(id=24, salt=bytes(16)), HIDDEN).hidden
    assert all(again[name] != field for name, field in shown(EXAMPLE, HIDDEN).hidden.items())
