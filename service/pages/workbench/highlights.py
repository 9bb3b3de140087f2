"""A label with what was read of it marked, character by character."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from service.domain.labels.answer import Fact, LabelAnswer, OtherIngredient
from service.domain.labels.sheet import Span

# What wins where readings overlap: a danger before anything, what was not understood before what was.
_ORDER = ("hazard", "unread", "amount", "name", "pack", "listed", "read")


@dataclass(frozen=True, slots=True)
class Piece:
    """Some characters of a label and how they were read: one of ``_ORDER``. ``note`` says more to who asks."""

    text: str
    kind: str
    note: str


@dataclass(frozen=True, slots=True)
class _Mark:
    start: int
    end: int
    kind: str
    note: str


def pieces(text: str, label: LabelAnswer) -> tuple[Piece, ...]:
    """Cut a label where its reading changes.

    Parameters
    ----------
    text
        The label as it was read.
    label
        Its reading.

    Returns
    -------
    tuple of Piece
        Together the whole text, in order.
    """
    rank = {kind: place for place, kind in enumerate(_ORDER)}
    kinds = ["read"] * len(text)
    notes = [""] * len(text)
    for mark in _marks(label):
        for at in range(max(mark.start, 0), min(mark.end, len(text))):
            if rank[mark.kind] < rank[kinds[at]]:
                kinds[at], notes[at] = mark.kind, mark.note
    found: list[Piece] = []
    begin = 0
    for at in range(1, len(text) + 1):
        if at == len(text) or (kinds[at], notes[at]) != (kinds[begin], notes[begin]):
            found.append(Piece(text[begin:at], kinds[begin], notes[begin]))
            begin = at
    return tuple(found) if text else ()


def _marks(label: LabelAnswer) -> Iterator[_Mark]:
    for unread in label.unread:
        kind = "hazard" if unread.hazard else "unread"
        yield _Mark(unread.start, unread.end, kind, f"Not understood: {unread.why.replace('_', ' ')}")
    for fact in label.facts:
        yield from _of_fact(fact)
    for item in label.other_ingredients:
        yield _Mark(item.span.start, item.span.end, *_listed(item))
    packs = (label.serving, label.container, label.energy, label.price)
    for reading in packs:
        for span in reading.spans if reading is not None else ():
            yield _pack(span)


def _listed(item: OtherIngredient) -> tuple[str, str]:
    if item.hazard and not item.negated:
        return "hazard", f"Known as {item.hazard.replace('-', ' ')}"
    if item.match != "exact":
        return "unread", "Not recognised, or not wholly, so not judged"
    return "listed", f"Known as {item.ingredient.replace('-', ' ')}" if item.ingredient else ""


def _of_fact(fact: Fact) -> Iterator[_Mark]:
    meaning = fact.ingredient.replace("-", " ") if fact.ingredient else "not recognised"
    yield _Mark(fact.name_span.start, fact.name_span.end, "name", f"Read as {meaning}")
    if fact.amount_span is not None:
        yield _Mark(fact.amount_span.start, fact.amount_span.end, "amount", f"Read as {fact.amount}")
    for constituent in fact.constituents:
        yield from _of_fact(constituent)


def _pack(span: Span) -> _Mark:
    return _Mark(span.start, span.end, "pack", "Read as serving, pack, energy or price")
