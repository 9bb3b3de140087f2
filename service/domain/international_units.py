"""International units to milligrams: every chemical form keeps its own factor together with its own share of moiety."""

from __future__ import annotations

import re
from dataclasses import dataclass
from decimal import Decimal

from service.reference.records import Form
from service.reference.release import Reference

# Natural and all-racemic vitamin E have different activity per mg; the name tells which (source chem-s08, chem-s11).
# The codes of feed additives fix it too (source chem-s12).
_NATURAL = re.compile(r"(?<![a-z])(?:d|rrr)-?\s?(?:alpha|\u03b1)|\b3a700ii\b", re.IGNORECASE)
_SYNTHETIC = re.compile(r"(?<![a-z])(?:dl|alle?-?\s?rac)-?\s?(?:alpha|\u03b1)|\b3a700i?\b", re.IGNORECASE)
# US label rule: 1 IU of the synthetic form counts as 0.45 mg alpha-tocopherol, of the natural one as 0.67 (chem-s08).
_SYNTHETIC_ACTIVE_MG_PER_IU = Decimal("0.45")
_ACTIVITY_SOURCE = "chem-s08"
# These say how a formula was weighed, not what a unit is.
_NOT_OF_THE_UNIT = frozenset(("iupac-abridged-weights", "chem-pkg", "own-arithmetic"))


@dataclass(frozen=True, slots=True)
class UnitMass:
    """What so many IU weigh: mg of the form, and mg of its moiety. ``how`` names the factors and their sources."""

    low_mg: Decimal
    high_mg: Decimal
    moiety_low_mg: Decimal
    moiety_high_mg: Decimal
    flags: tuple[str, ...]
    how: str
    source_ids: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class _Reading:
    """One thing that the label can mean: a form, natural or synthetic where that matters."""

    form: Form
    iu_per_mg: Decimal
    share: Decimal
    kind: str | None


def mass_of_units(
    reference: Reference, form: Form, low_iu: Decimal, high_iu: Decimal, name: str = ""
) -> UnitMass | None:
    """Turn international units of a form into mg.

    Parameters
    ----------
    reference
        The release to answer from.
    form
        The form that the units are of; an open one is read as each of its candidates.
    low_iu, high_iu
        The amount in IU; the same twice where the print leaves nothing open.
    name
        Words of the label: ``d-alpha`` or ``dl-alpha`` tells natural from synthetic.

    Returns
    -------
    UnitMass or None
        ``None`` where no unit is defined for the form. Each end is the value of one form and one origin.
    """
    readings = _readings(reference, form, name)
    if not readings:
        return None
    moiety_low = min(low_iu / one.iu_per_mg * one.share for one in readings)
    kinds = {one.kind for one in readings}
    if "synthetic" in kinds:
        # By mass and by activity a synthetic IU holds different amounts: low for value, high for limits.
        moiety_low = min(moiety_low, low_iu * _SYNTHETIC_ACTIVE_MG_PER_IU)
    return UnitMass(
        low_mg=min(low_iu / one.iu_per_mg for one in readings),
        high_mg=max(high_iu / one.iu_per_mg for one in readings),
        moiety_low_mg=moiety_low,
        moiety_high_mg=max(high_iu / one.iu_per_mg * one.share for one in readings),
        flags=_flags(kinds),
        how=_how(readings),
        source_ids=_sources(readings),
    )


def _readings(reference: Reference, form: Form, name: str) -> tuple[_Reading, ...]:
    candidates = [reference.forms[id_] for id_ in form.candidate_form_ids] or [form]
    synthetic = _SYNTHETIC.search(name) is not None
    natural = not synthetic and _NATURAL.search(name) is not None
    found = []
    for one in candidates:
        if one.iu_per_mg_low is None or one.iu_per_mg_high is None:
            continue
        share = one.share_low or Decimal(1)
        if one.iu_per_mg_low == one.iu_per_mg_high:
            found.append(_Reading(one, one.iu_per_mg_low, share, None))
            continue
        # The table keeps the synthetic factor as the low one and the natural factor as the high one.
        if not natural:
            found.append(_Reading(one, one.iu_per_mg_low, share, "synthetic"))
        if not synthetic:
            found.append(_Reading(one, one.iu_per_mg_high, share, "natural"))
    return tuple(found)


def _flags(kinds: set[str | None]) -> tuple[str, ...]:
    open_ = ("natural_or_synthetic_not_stated",) if kinds >= {"natural", "synthetic"} else ()
    return (*open_, *(("two_vitamin_e_bases",) if "synthetic" in kinds else ()))


def _sources(readings: tuple[_Reading, ...]) -> tuple[str, ...]:
    ids = [id_ for one in readings for id_ in one.form.source_ids if id_ not in _NOT_OF_THE_UNIT]
    ids += [_ACTIVITY_SOURCE] if any(one.kind == "synthetic" for one in readings) else []
    return tuple(dict.fromkeys(ids))


def _how(readings: tuple[_Reading, ...]) -> str:
    factors = "; ".join(
        f"{one.form.name}: {one.iu_per_mg.normalize():f} IU per mg" + (f" ({one.kind})" if one.kind else "")
        for one in readings
    )
    ids = [id_ for one in readings for id_ in one.form.source_ids if id_ not in _NOT_OF_THE_UNIT]
    named = tuple(dict.fromkeys(ids))
    told = f"{factors} (source{'s' if len(named) > 1 else ''} {', '.join(named)})"
    if any(one.kind == "synthetic" for one in readings):
        moiety = readings[0].form.moiety
        told += (
            f"; counted by activity, one synthetic IU is {_SYNTHETIC_ACTIVE_MG_PER_IU} mg {moiety} "
            f"(source {_ACTIVITY_SOURCE}), which is the low reading"
        )
    return told
