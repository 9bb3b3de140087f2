"""Rows of the dataset as an exposure answer shows them: thresholds, and where sources disagree."""

from __future__ import annotations

from collections.abc import Iterable
from decimal import Decimal
from typing import TypeAlias

from service.domain.exposure_answer import Conflict, ExposureThreshold
from service.domain.exposure_counting import Counting, factor_words
from service.domain.exposure_tiers import TIER_OF_SEVERITY, Compared, Judged
from service.domain.rounding import amount, amount_range, significant
from service.domain.screening_answers import plain
from service.reference.records import Threshold

Ends: TypeAlias = tuple[Decimal | None, Decimal | None]
_PRIMARY = "primary"
_SHOWN_DIGITS = 4
_SEVERITY_WORDS = {
    "signs_mild": "mild signs",
    "signs_moderate": "moderate signs",
    "signs_severe": "severe signs",
    "potentially_lethal": "deaths",
    "ld50": "the death of half the animals",
}


def rounded_range(low: Decimal | None, high: Decimal | None) -> Ends:
    """Round the two ends of a range, where there is one.

    Parameters
    ----------
    low, high
        The exact ends, in one unit.

    Returns
    -------
    tuple
        Rounded so that they do not leave the range.
    """
    return (None, None) if low is None or high is None else amount_range(low, high)


def speaking_row(judged: Judged) -> Threshold | None:
    """Find the row whose onset and signs an answer tells.

    Parameters
    ----------
    judged
        What an amount means.

    Returns
    -------
    Threshold or None
        The row that decided, else the first primary one that describes signs.
    """
    if judged.decided_by is not None and judged.decided_by.signs is not None:
        return judged.decided_by
    rows = [one.row for one in judged.compared if one.row.use == _PRIMARY and one.row.signs is not None]
    return next((row for row in rows if row.onset is not None), rows[0] if rows else judged.decided_by)


def shown_thresholds(judged: Judged, weight_kg: Decimal) -> tuple[ExposureThreshold, ...]:
    """Turn every compared row into its wire form.

    Parameters
    ----------
    judged
        What an amount means.
    weight_kg
        Body weight in kg.

    Returns
    -------
    tuple of ExposureThreshold
        Primary rows before those that are shown beside them, each by rising amount.
    """
    ordered = sorted(judged.compared, key=lambda one: (one.row.use != _PRIMARY, one.row.mg_per_kg_low or Decimal(0)))
    return tuple(_threshold(one, weight_kg) for one in ordered)


def _threshold(one: Compared, weight_kg: Decimal) -> ExposureThreshold:
    row, counted = one.row, one.counted
    held = one.reached is not None and counted is not None
    return ExposureThreshold(
        id=row.id,
        hazard=row.hazard_id,
        severity=row.severity,
        tier=TIER_OF_SEVERITY.get(row.severity),
        comparison=row.comparison,
        amount_low=row.amount_low,
        amount_high=row.amount_high,
        unit=row.unit,
        of=row.moiety,
        basis=row.basis,
        per_day=row.per_day,
        mg_per_kg_low=row.mg_per_kg_low,
        mg_per_kg_high=row.mg_per_kg_high,
        compared_mg_per_kg=amount(counted.high_mg / weight_kg) if held and counted is not None else None,
        reached=one.reached,
        why_not_compared=one.why_not,
        onset=row.onset,
        signs=row.signs,
        action=row.action,
        use=row.use,
        grade=row.grade,
        note=row.note,
        origin=row.origin,
        source_ids=row.source_ids,
    )


def threshold_conflicts(judged: Judged) -> tuple[Conflict, ...]:
    """List thresholds of one severity and one way of eating that start at different amounts.

    Parameters
    ----------
    judged
        What an amount means.

    Returns
    -------
    tuple of Conflict
        The lowest primary row is the one that is used; the others are named beside it.
    """
    rows = [one.row for one in judged.compared if one.row.severity in TIER_OF_SEVERITY and one.row.mg_per_kg_low]
    groups: dict[tuple[str, str, bool], list[Threshold]] = {}
    for row in rows:
        groups.setdefault((row.hazard_id, row.severity, row.per_day), []).append(row)
    return tuple(conflict for group in groups.values() for conflict in _of_group(group))


def _of_group(rows: list[Threshold]) -> Iterable[Conflict]:
    primary = [row for row in rows if row.use == _PRIMARY]
    if not primary:
        return
    used = min(primary, key=lambda row: row.mg_per_kg_low or Decimal(0))
    for row in rows:
        if row.use != _PRIMARY and row.mg_per_kg_low != used.mg_per_kg_low:
            about = _SEVERITY_WORDS[row.severity]
            sources = tuple(dict.fromkeys((*used.source_ids, *row.source_ids)))
            yield Conflict(about, used.id, severity_words(used), row.id, severity_words(row), sources)


def content_conflicts(counting: Counting | None) -> tuple[Conflict, ...]:
    """List other figures for what the eaten material holds.

    Parameters
    ----------
    counting
        What was counted.

    Returns
    -------
    tuple of Conflict
        The factor that was used first, then each of the others.
    """
    if counting is None or not counting.content.factors:
        return ()
    used = counting.content.factors[0]
    return tuple(
        Conflict(
            about=f"content of {used.material}",
            used_id=used.id,
            used=factor_words(used),
            other_id=row.id,
            other=factor_words(row),
            source_ids=tuple(dict.fromkeys((*used.source_ids, *row.source_ids))),
        )
        for row in counting.content.beside
    )


def severity_words(row: Threshold) -> str:
    """Put a published tier into words.

    Parameters
    ----------
    row
        A row of table ``hazard_thresholds`` whose severity stands for a tier.

    Returns
    -------
    str
        For example ``mild signs from 20 mg/kg caffeine``.
    """
    start, end = row.mg_per_kg_low, row.mg_per_kg_high
    if start is None:
        amount_words = f"{row.amount_low} {(row.unit or '').replace('_total', ' in all')}"
    else:
        amount_words = f"{_shown(start)}{f' to {_shown(end)}' if end is not None else ''} mg/kg"
    of_what = f" {row.moiety}" if row.moiety else ""
    return f"{_SEVERITY_WORDS[row.severity]} {'above' if row.comparison == '>' else 'from'} {amount_words}{of_what}"


def _shown(value: Decimal) -> str:
    return plain(significant(value, _SHOWN_DIGITS))
