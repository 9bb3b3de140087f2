"""What must hold for the reading of any text, checked by the invariants and by the fuzz run.

Laws have no source: nothing printed may vanish, every span lies where it says, and what is read can be sent on.
"""

from __future__ import annotations

import unicodedata
from collections.abc import Iterable, Iterator
from decimal import Decimal

from service.domain.labels.answer import BlendMember, Fact, LabelAnswer
from service.domain.labels.assembling import read_label
from service.domain.labels.sheet import Span
from service.domain.normalising import NormaliseAnswer, normalise
from service.reference.release import Reference
from service.schemas.labels import LabelAnswerSchema
from service.schemas.product import ProductSchema
from service.web.body import load
from service.web.envelope import Envelope
from service.web.json_document import faults_of, parse
from service.web.products import read_product
from service.web.wire import dump, to_wire

# Where the printed digits are not those of the value: worked out, counted over, or not used at all.
_WORKED_OUT = frozenset(("fraction", "scientific_notation", "min_and_max"))
_PRODUCT = ProductSchema()


def read_by_the_laws(reference: Reference, text: str, locale: str | None = None) -> LabelAnswer:
    """Read a text and hold the reading against every law."""
    answer = read_label(reference, text, locale)
    vanished = vanished_characters(text, answer)
    assert not vanished, f"vanished: {vanished}"
    outside = [span for span in spans_of(answer) if not 0 <= span.start <= span.end <= len(text)]
    assert not outside, f"spans outside of the text: {outside}"
    for fact in every_fact(answer):
        assert printed_number_stands_in_span(text, fact), f"{fact.value} is not in the span of {fact.name!r}"
    Envelope(reference, check=True).json(answer, LabelAnswerSchema)
    for difference in differences_to_normalise(reference, answer):
        raise AssertionError(difference)
    return answer


def every_fact(answer: LabelAnswer) -> Iterator[Fact]:
    """Give facts with their constituents."""
    yield from _with_parts(answer.facts)


def _with_parts(facts: Iterable[Fact]) -> Iterator[Fact]:
    for fact in facts:
        yield fact
        yield from _with_parts(fact.constituents)


def _with_members(members: Iterable[BlendMember]) -> Iterator[BlendMember]:
    for member in members:
        yield member
        yield from _with_members(member.members)


def spans_of(answer: LabelAnswer) -> list[Span]:
    """Give every span that an answer names."""
    found = [span for fact in every_fact(answer) for span in (fact.span, fact.name_span, fact.amount_span) if span]
    found += [one.span for fact in every_fact(answer) for one in fact.second_figures]
    found += [blend.span for blend in answer.blends]
    found += [one.span for blend in answer.blends for one in _with_members(blend.members)]
    found += [one.span for one in answer.other_ingredients]
    found += [one.span for one in answer.allergens]
    found += [one.span for one in answer.statements]
    found += [one.span for one in answer.directions]
    found += [band.span for one in answer.directions for band in one.bands]
    parts = (answer.serving, answer.container, answer.energy, answer.price)
    found += [span for part in parts if part is not None for span in part.spans]
    return [*found, *(Span(one.start, one.end) for one in answer.unread)]


def vanished_characters(text: str, answer: LabelAnswer) -> list[str]:
    """Give the stretches of letters and digits that no part of the answer points to."""
    told = bytearray(len(text))
    for span in spans_of(answer):
        told[span.start : span.end] = b"\x01" * (span.end - span.start)
    found: list[str] = []
    last = -2
    for at, char in enumerate(text):
        if char.isalnum() and not told[at]:
            if at != last + 1:
                found.append("")
            found[-1] += char
            last = at
    return found


def printed_number_stands_in_span(text: str, fact: Fact) -> bool:
    """Say whether the characters of the amount hold the digits of its value."""
    if fact.value is None or fact.amount_span is None or _WORKED_OUT & set(fact.flags):
        return True
    printed = text[fact.amount_span.start : fact.amount_span.end]
    if any(unicodedata.decomposition(char).startswith("<fraction>") for char in printed):
        return True
    # Compatibility folding makes digits of circled and full-width ones; a superscript only adds a digit behind.
    digits = "".join(char for char in unicodedata.normalize("NFKC", printed) if char.isdigit())
    return _digits(fact.value) in digits


def _digits(value: Decimal) -> str:
    return "".join(str(digit) for digit in value.normalize().as_tuple().digits).strip("0")


def sent_on(reference: Reference, answer: LabelAnswer) -> NormaliseAnswer:
    """Send the product to ``normalise`` as a caller would: over the wire and through the request schema."""
    document = parse(dump(to_wire(answer.product)).encode())
    assert list(faults_of(document)) == []
    return normalise(reference, read_product(load(_PRODUCT, document), "product"))


def differences_to_normalise(reference: Reference, answer: LabelAnswer) -> Iterator[str]:
    """Say where ``normalise`` reads a fact otherwise than the label reader did."""
    read = {(fact.name, fact.amount): fact for fact in sent_on(reference, answer).facts}
    for fact in answer.facts[:60]:
        if not fact.name.strip() or (fact.flags and "too_many_facts" in answer.flags):
            continue
        theirs = read.get((fact.name, fact.amount))
        if theirs is None:
            yield f"{fact.name!r} {fact.amount!r} is not in the product"
            continue
        for name in ("mg_per_unit", "mg_low_per_unit", "mg_high_per_unit", "ingredient", "form"):
            ours, other = getattr(fact, name), getattr(theirs, name)
            if ours != other:
                yield f"{name} of {fact.name!r} {fact.amount!r}: {ours} read, {other} normalised"
