"""Short ways to the parts of the label reader that the tests ask one by one."""

from __future__ import annotations

from decimal import Decimal

from service.domain.labels.answer import Fact, LabelAnswer
from service.domain.labels.assembling import read_label
from service.domain.labels.quantities import Quantity, quantity
from service.domain.labels.sheet import Sheet, Span, sheet_of
from service.reference.release import Reference


def sheet(reference: Reference, text: str, locale: str | None = None) -> Sheet:
    """Cut a text into tokens."""
    return sheet_of(reference, text, locale)


def amount(reference: Reference, text: str, locale: str | None = None) -> Quantity | None:
    """Recognise the amount that a text begins with."""
    cut = sheet(reference, text, locale)
    return quantity(cut, 0, len(cut.tokens))


def only_fact(reference: Reference, text: str, locale: str | None = None) -> Fact:
    """Read a text that gives one fact."""
    (fact,) = read_label(reference, text, locale).facts
    return fact


def told(answer: LabelAnswer) -> list[tuple[str | None, str | None, Decimal | None, Decimal | None]]:
    """Give what must not change with the wording: ingredient, form and mg, low and high, of every fact."""
    return [(fact.ingredient, fact.form, fact.mg_low, fact.mg_high) for fact in answer.facts]


def at(text: str, span: Span | None) -> str | None:
    """Give the characters of a span."""
    return None if span is None else text[span.start : span.end]


def plain(value: object) -> object:
    """Forget the type, so that 500 may be written where the value is a decimal or nothing."""
    return value
