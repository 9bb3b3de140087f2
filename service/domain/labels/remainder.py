"""What was understood but stands in no part of the answer: joining words, words beside facts. Nothing may vanish."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from service.domain.labels.answer import Blend, BlendMember, Fact
from service.domain.labels.bullets import is_bullet
from service.domain.labels.findings import Findings, Statement
from service.domain.labels.plain_text import FOOTNOTE_DIGITS
from service.domain.labels.sheet import Span


def state_the_rest(found: Findings, facts: tuple[Fact, ...], blends: tuple[Blend, ...]) -> None:
    """Keep every word that no span of the answer points to as a statement of kind ``beside``.

    Parameters
    ----------
    found
        The label; statements are added to it.
    facts, blends
        What was read from its panel.
    """
    sheet = found.sheet
    length = max(sheet.plain.ends, default=0)
    told = _told(length, (*_spans_of_panel(facts, blends), *_spans_of_findings(found)))
    start: int | None = None
    for at in range(len(sheet.tokens) + 1):
        if at < len(sheet.tokens) and found.covered[at] and _is_left(found, told, at):
            start = at if start is None else start
        elif start is not None:
            _state(found, start, at)
            start = None


def _state(found: Findings, start: int, end: int) -> None:
    """Keep words as printed; a footnote mark that stands alone by its digit."""
    sheet = found.sheet
    text = sheet.text(start, end) or "".join(_digit_of(token.text) for token in sheet.tokens[start:end])
    found.statements.append(Statement("beside", text, None, None, None, sheet.span(start, end)))


def _digit_of(mark: str) -> str:
    return "".join(str(FOOTNOTE_DIGITS.index(char)) if char in FOOTNOTE_DIGITS else char for char in mark)


def _told(length: int, spans: Iterable[Span]) -> bytearray:
    """Mark the characters that spans point to."""
    told = bytearray(length)
    for span in spans:
        told[span.start : span.end] = b"\x01" * (span.end - span.start)
    return told


def _is_left(found: Findings, told: bytearray, at: int) -> bool:
    """Say whether a word, number or footnote mark stands in no part of the answer."""
    token = found.sheet.tokens[at]
    if token.kind == "newline" or (token.kind == "sign" and not token.text.isalnum()):
        return False
    if (
        token.kind == "mark"
        and (at == 0 or found.sheet.tokens[at - 1].kind == "newline")
        and is_bullet(found.sheet, at)
    ):
        return False
    span = found.sheet.span(at, at + 1)
    return not all(told[span.start : span.end])


def _spans_of_panel(facts: tuple[Fact, ...], blends: tuple[Blend, ...]) -> Iterator[Span]:
    for fact in facts:
        yield from (span for span in (fact.span, fact.name_span, fact.amount_span) if span is not None)
        yield from (one.span for one in fact.second_figures)
        yield from _spans_of_panel(fact.constituents, ())
    for blend in blends:
        yield blend.span
        yield from _spans_of_members(blend.members)


def _spans_of_members(members: tuple[BlendMember, ...]) -> Iterator[Span]:
    for member in members:
        yield member.span
        yield from _spans_of_members(member.members)


def _spans_of_findings(found: Findings) -> Iterator[Span]:
    pack = found.pack
    # A price that was taken back has no part of the answer to point from.
    prices = pack.price_spans if pack.price is not None else []
    for several in (pack.serving_spans, pack.container_spans, pack.energy_spans, prices):
        yield from several
    yield from (one.span for one in found.listed)
    yield from (one.span for one in found.allergens)
    yield from (one.span for one in found.statements)
    for direction in found.directions:
        yield direction.span
        yield from (band.span for band in direction.bands)
