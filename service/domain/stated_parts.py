"""Shares of substances that a name states: ``guarana extract (22 % caffeine)``, ``kelp (iodine 0.1 %)``."""

from __future__ import annotations

import re
from collections.abc import Mapping
from decimal import Decimal
from functools import lru_cache
from types import MappingProxyType

from service.domain.label_text import clean
from service.domain.resolving import resolver_for
from service.reference.release import Reference

_PERCENT = r"(?<![0-9.,])([0-9]{1,3}(?:[.,][0-9]{1,4})?) ?(?:%|percent|prozent|pour cent|por ciento)"
_NAME = r"([^\W\d_][^\d,;:()\[\]%+&]{1,40})"
_BEHIND = re.compile(rf"{_PERCENT}\s?(?:of |de |d'|di |an )?\s?{_NAME}", re.IGNORECASE)
_BEFORE = re.compile(rf"{_NAME}[ :=]{{1,2}}(?:min\.? |max\.? |ca\.? )?{_PERCENT}", re.IGNORECASE)
_MOST = 6


@lru_cache(maxsize=1024)
def stated_parts(reference: Reference, name: str) -> Mapping[str, Decimal]:
    """Read what share of which harmful substance a name states.

    Parameters
    ----------
    reference
        The release to answer from.
    name
        As printed.

    Returns
    -------
    mapping of str to Decimal
        Share of the mass by hazard id; empty where no percentage stands beside the name of a substance.
    """
    if "%" not in name and "per" not in name and "por" not in name and "pro" not in name.casefold():
        return MappingProxyType({})
    text = clean(name)
    inside = re.findall(r"[(\[]([^()\[\]]{3,200})[)\]]", text)
    found: dict[str, Decimal] = {}
    behind = [(match[1], match[2]) for match in _BEHIND.finditer(text)]
    before = [(match[2], match[1]) for part in inside for match in _BEFORE.finditer(part)] if not behind else []
    for number, named in (*behind, *before)[:_MOST]:
        share = Decimal(number.replace(",", ".")) / 100
        for hazard in _meant(reference, named):
            if 0 < share <= 1:
                found.setdefault(hazard, share)
    return MappingProxyType(found)


def _meant(reference: Reference, named: str) -> list[str]:
    resolution = resolver_for(reference).exact(named.strip(" ."))
    if resolution.match != "exact" or resolution.not_understood:
        return []
    return [one.hazard for one in resolution.meanings if one.hazard is not None and not one.negated]
