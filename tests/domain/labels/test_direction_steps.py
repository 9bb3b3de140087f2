"""The parts of a line of directions."""

from __future__ import annotations

from decimal import Decimal

import pytest

from service.domain.labels.direction_steps import Told, collect
from service.reference.release import Reference
from tests.domain.labels.reading import plain, sheet

KG_PER_LB = Decimal("0.45359237")


def _told(reference: Reference, text: str) -> Told:
    cut = sheet(reference, text)
    return collect(cut, 0, len(cut.tokens))


@pytest.mark.parametrize(
    ("text", "from_kg", "to_kg"),
    [
        ("10-25 kg", 10, 25), ("10 to 25 kg", 10, 25), ("up to 10 kg", None, 10), ("under 10 kg", None, 10),
        ("< 10 kg", None, 10), ("over 25 kg", 25, None), (">60 lbs", 60 * KG_PER_LB, None),
        ("25 kg and over", 25, None), ("25 kg or less", None, 25), ("10 kg", 10, 10),
        ("10 lb", 10 * KG_PER_LB, 10 * KG_PER_LB),
        # A stone is 14 pounds (source chem-s63).
        ("4 st and over", 56 * KG_PER_LB, None), ("4 st 6 lb and over", 62 * KG_PER_LB, None),
        ("up to 25 lb (11 kg)", None, 25 * KG_PER_LB),
    ],
)  # fmt: skip
def test_body_weights(reference: Reference, text: str, from_kg: Decimal | None, to_kg: Decimal | None) -> None:
    (one,) = _told(reference, text).weights
    assert (one.from_kg, one.to_kg) == (from_kg, to_kg)


@pytest.mark.parametrize(
    ("text", "times"),
    [
        ("twice daily", 2),
        ("daily", 1),
        ("morgens und abends", 2),
        ("trois fois par jour", 3),
        ("2 veces al d\u00eda", 2),
    ],
)
def test_how_often(reference: Reference, text: str, times: int) -> None:
    assert _told(reference, text).times == times


@pytest.mark.parametrize(
    ("text", "days"),
    [("for 4-6 weeks", (28, 42)), ("10 days", (10, 10)), ("2 Monate", (60, 60)), ("3 semaines", (21, 21))],
)
def test_how_long(reference: Reference, text: str, days: tuple[int, int]) -> None:
    assert _told(reference, text).days == days


def test_everything_of_a_line(reference: Reference) -> None:
    told = _told(reference, "Large dogs over 30 kg: 2-3 chews twice daily for the first 2 weeks")
    assert told.species == ("dog",)
    assert plain([(one.number.low, one.number.high) for one in told.units]) == [(2, 3)]
    assert plain((told.times, told.phase, told.days)) == (2, "loading", (14, 14))


def test_amounts_of_substances_are_no_units(reference: Reference) -> None:
    assert _told(reference, "MSM 500 mg").units == []


@pytest.mark.parametrize(
    "text",
    [
        "Twice weekly, one chew", "1 chew twice a week", "1 Tablette zweimal pro Woche",
        "2 x w\u00f6chentlich 1 Tablette",
        "1 comprim\u00e9 deux fois par semaine", "1 comprimido dos veces por semana", "1 chew 2 days a week",
        "two times a week 1 chew",
    ],
)  # fmt: skip
def test_so_many_times_a_week(reference: Reference, text: str) -> None:
    told = _told(reference, text)
    assert plain((told.times_per_week, told.interval, told.days)) == (2, None, None)
    assert "times_per_week" in told.flags


@pytest.mark.parametrize(
    ("text", "days"),
    [
        ("1 chew weekly", 7), ("1 chew once a week", 7), ("1 chew every other day", 2), ("1 chew every 4 days", 4),
        ("1 Tablette alle 2 Wochen", 14), ("1 chew fortnightly", 14), ("1 chew monthly", 30), ("1 chew daily", None),
    ],
)  # fmt: skip
def test_days_from_one_to_the_next(reference: Reference, text: str, days: int | None) -> None:
    assert _told(reference, text).interval == days


def test_a_range_of_times_is_told(reference: Reference) -> None:
    told = _told(reference, "1 chew 2-3 times daily")
    assert told.times == 2
    assert "range" in told.flags
