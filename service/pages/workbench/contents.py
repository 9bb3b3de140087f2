"""What one unit of each product holds, and what a gram of it costs."""

from __future__ import annotations

from collections.abc import Mapping
from decimal import Decimal

from service.domain.normalising import NormaliseAnswer, NormalisedFact
from service.domain.rounding import significant
from service.pages.asked import Asked, Cell
from service.pages.counting import money
from service.pages.page_table import PageTable, page_table
from service.pages.wording import number, span, words
from service.reference.release import Reference

_COLUMNS = (
    "product",
    "as printed",
    "read as",
    "mg in one unit",
    "active part, mg",
    "a gram of it costs",
    "remarks",
)
_SHOWN_DIGITS = 4


def content_table(reference: Reference, contents: Mapping[str, NormaliseAnswer]) -> PageTable:
    """Lay the facts of all products out, one row each.

    Parameters
    ----------
    reference
        The release that answered.
    contents
        What each product holds, by the name it is shown under.

    Returns
    -------
    PageTable
        A row per line of a label.
    """
    rows = tuple(
        _row(reference, name, answer, fact, f"{answer.product_id}-f{index}")
        for name, answer in contents.items()
        for index, fact in enumerate(answer.facts)
    )
    return page_table(_COLUMNS, rows)


def _row(reference: Reference, name: str, answer: NormaliseAnswer, fact: NormalisedFact, id_: str) -> tuple[Cell, ...]:
    printed = f"{fact.name} {fact.amount}" if fact.amount else f"{fact.name} (no amount)"
    return (
        name,
        printed,
        _meaning(reference, fact),
        _mass(fact, answer, id_),
        _moiety(reference, fact, id_),
        _cost(fact, answer, id_),
        ", ".join(words(flag) for flag in fact.flags) or None,
    )


def _meaning(reference: Reference, fact: NormalisedFact) -> str:
    if fact.form is not None:
        return reference.forms[fact.form].name
    if fact.ingredient is not None:
        return reference.ingredients[fact.ingredient].name
    return "not recognised"


def _mass(fact: NormalisedFact, answer: NormaliseAnswer, id_: str) -> Asked | None:
    if fact.mg_low_per_unit is None:
        return None
    text = span(_short(fact.mg_low_per_unit), _short(fact.mg_high_per_unit))
    return Asked(f"{id_}-mass", text, f"{fact.amount} as printed, for one {answer.unit} of the serving.", "", ())


def _moiety(reference: Reference, fact: NormalisedFact, id_: str) -> Asked | None:
    low, high = fact.moiety_low_mg_per_unit, fact.moiety_high_mg_per_unit
    if low is None or fact.form is None:
        return None
    form = reference.forms[fact.form]
    share = span(_percent(form.share_low), _percent(form.share_high))
    rule = f"{form.name} is {share} % {fact.moiety} by mass, from the formulas."
    return Asked(f"{id_}-moiety", span(_short(low), _short(high)), rule, form.origin, form.source_ids)


def _cost(fact: NormalisedFact, answer: NormaliseAnswer, id_: str) -> Asked | None:
    if fact.moiety_cost_per_mg is None:
        return None
    per_g = significant(fact.moiety_cost_per_mg * 1000, _SHOWN_DIGITS)
    rule = (
        f"One unit costs {money(answer.cost_per_unit, answer.currency)} and holds "
        f"{number(_short(fact.moiety_low_mg_per_unit))} mg of {fact.moiety} on the low reading. Other ingredients of "
        "the product are not counted."
    )
    return Asked(f"{id_}-gram", money(per_g, answer.currency) or "", rule, "", ())


def _short(value: Decimal | None) -> Decimal | None:
    return significant(value, _SHOWN_DIGITS) if value is not None else None


def _percent(share: Decimal | None) -> Decimal | None:
    return significant(share * 100, _SHOWN_DIGITS) if share is not None else None
