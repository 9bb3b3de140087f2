"""Constituents of another kind that a bracket states: ``Cod liver oil (providing vitamin D 400 IU) 1000 mg``."""

from __future__ import annotations

import re
from dataclasses import replace

from service.domain.errors import InvalidInput
from service.domain.normalising import ReadFact, read_facts
from service.domain.products import LabelFact, Product
from service.reference.release import Reference

_BRACKET = re.compile(r"[(\[]([^()\[\]]{3,200})[)\]]")
# A bracket that says what a nutrient is made from holds no constituent of it.
_MADE_FROM = re.compile(
    r"\s*(?:as|from|in the form of|als|aus|sous forme de|en forme de|provenant de|como|en forma de|procedente de)\s",
    re.IGNORECASE,
)
_OPENING = re.compile(
    r"\s*(?:providing|provides|containing|contains|supplying|supplies|with|of which|including|incl\.?|liefert|mit|"
    r"davon|enth\u00e4lt|apportant|dont|contenant|contient|aporta|que aporta|con|contiene)\s+",
    re.IGNORECASE,
)
_BETWEEN = re.compile(r"\s*(?:[;&+]|,(?![0-9])|\b(?:and|und|et|y)\b)\s*", re.IGNORECASE)
_NUMBER_AND_UNIT = r"[0-9][0-9.,]{0,12} ?(?:mg|mcg|\u00b5g|\u03bcg|ug|g|iu|ie|ui|i\.u\.)"
_NAME_FIRST = re.compile(rf"(?P<name>[^0-9]{{2,60}}[0-9]{{0,2}})[ :=]+(?P<amount>{_NUMBER_AND_UNIT})\.?", re.IGNORECASE)
_AMOUNT_FIRST = re.compile(rf"(?P<amount>{_NUMBER_AND_UNIT})\.? +(?:of +)?(?P<name>\S.{{1,60}})", re.IGNORECASE)


def constituents(reference: Reference, product: Product, parent: ReadFact) -> tuple[ReadFact, ...]:
    """Read what a line states beside its own substance.

    Parameters
    ----------
    reference
        The release to answer from.
    product
        Gives the serving.
    parent
        The line. What its bracket says of its own substance is read with the line itself.

    Returns
    -------
    tuple of ReadFact
        Other ingredients with an amount; a part that is not understood is none of them.
    """
    own = parent.reading.ingredient
    meant = {own, *(reference.ingredients[own].screened_as_ids if own else ())}
    aside = parent.amount.aside if parent.amount is not None else None
    found = []
    for inside in (*_BRACKET.findall(parent.fact.name), *((aside,) if aside else ())):
        for fact in _stated(inside):
            try:
                (read,) = read_facts(reference, replace(product, facts=(fact,)))
            except InvalidInput:
                continue
            if read.reading.ingredient not in meant and read.reading.resolution.match == "exact":
                found.append(read)
    return tuple(found)


def _stated(inside: str) -> list[LabelFact]:
    if _MADE_FROM.match(inside):
        return []
    text = _OPENING.sub("", inside, count=1)
    matches = (_NAME_FIRST.fullmatch(part) or _AMOUNT_FIRST.fullmatch(part) for part in _BETWEEN.split(text.strip()))
    return [LabelFact(match["name"].strip(), match["amount"]) for match in matches if match]
