"""Screens without a body weight. The maxima are those of the release; 120 kg is the heaviest dog accepted."""

from __future__ import annotations

import pytest

from service.domain.screening import ScreenAnswer
from service.domain.screening_unweighed import WEIGHT_NOT_GIVEN
from service.reference.release import Reference
from tests.domain.screening_requests import ask, of_kind, product

VITAMIN_D = ("vitamin-d", "daily_maximum")


def _gaps(answer: ScreenAnswer) -> set[tuple[str, str]]:
    return {(gap.a, gap.b) for gap in answer.not_assessed if gap.reason == WEIGHT_NOT_GIVEN}


def test_what_is_too_much_for_the_heaviest_is_too_much_for_all(reference: Reference) -> None:
    answer = ask(reference, None, product("p", ("Vitamin D3", "12000 IU")), kg=None)
    over = of_kind(answer, "over_limit")
    assert [finding.subjects for finding in over] == [("vitamin-d",)]
    assert "120 kg" in over[0].effect
    assert answer.verdict == "ask_veterinarian"
    assert VITAMIN_D not in _gaps(answer)


def test_a_tier_reached_at_every_weight_decides(reference: Reference) -> None:
    answer = ask(reference, None, product("p", ("Vitamin D3", "1 g")), kg=None)
    assert answer.verdict == "stop"


def test_what_depends_on_the_weight_is_not_assessed(reference: Reference) -> None:
    answer = ask(reference, None, product("p", ("Vitamin D3", "400 IU")), kg=None)
    assert VITAMIN_D in _gaps(answer)
    assert answer.verdict == "incomplete"


@pytest.mark.parametrize(("fact", "kg"), [(("MSM", "500 mg"), None), (("Vitamin D3", "100 IU"), "20")])
def test_nothing_is_open_without_a_maximum_or_with_a_weight(
    reference: Reference, fact: tuple[str, str], kg: str | None
) -> None:
    answer = ask(reference, None, product("p", fact), kg=kg)
    assert VITAMIN_D not in _gaps(answer)
    assert answer.verdict == "nothing_found"
