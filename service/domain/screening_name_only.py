"""Names that are known without anything being known of what they name.

One entry stands for many unlike plants ("other herbs"): to have recognised the word is no assessment of the plant.
Collective entries of ordinary food (vegetables, fruit, meat, oils, flour, kitchen spices) are not meant.
"""

from __future__ import annotations

from collections.abc import Iterable

from service.domain.screening_answers import NotAssessed, Unrecognised
from service.domain.screening_subjects import Mention

REASON = "recognised_by_name_only"
_UNLIKE_PLANTS = frozenset({"calming-herb", "citrus-herb-other", "herb-other", "herbal-tea", "mushroom"})


def is_name_only(mention: Mention) -> bool:
    """Say whether a mention is one of many unlike plants under one entry.

    Parameters
    ----------
    mention
        A place where a label names an ingredient.

    Returns
    -------
    bool
        ``True`` where its entry says nothing about this plant; a trace is none.
    """
    return mention.ingredient in _UNLIKE_PLANTS and not mention.trace


def name_only_texts(mentions: Iterable[Mention], listed: Iterable[Unrecognised]) -> tuple[Unrecognised, ...]:
    """List the printed texts of such mentions as not understood, where they are not listed so already.

    Parameters
    ----------
    mentions
        Places where labels name an ingredient.
    listed
        What is listed as not understood already.

    Returns
    -------
    tuple of Unrecognised
        Each text once, without suggestions.
    """
    have = {(one.text, one.where) for one in listed}
    found = dict.fromkeys((one.text, one.where) for one in mentions if is_name_only(one))
    return tuple(Unrecognised(text, where, ()) for text, where in found if (text, where) not in have)


def name_only_gaps(mentions: Iterable[Mention], others: Iterable[str]) -> tuple[NotAssessed, ...]:
    """Pair each such plant, under its printed name, with every medicine and condition.

    Parameters
    ----------
    mentions
        Places where labels name an ingredient.
    others
        Ids of medicines and conditions.

    Returns
    -------
    tuple of NotAssessed
        One per pair.
    """
    names = dict.fromkeys(one.text for one in mentions if is_name_only(one))
    against = tuple(others)
    return tuple(NotAssessed(name, other, REASON) for name in names for other in against)
