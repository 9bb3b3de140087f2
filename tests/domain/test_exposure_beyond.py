"""Amounts for which the species has no threshold of its own."""

from __future__ import annotations

import pytest

from service.reference.release import Reference
from tests.domain.exposure_requests import ask, codes

NOW = "Contact a veterinarian or an animal poison line now."


@pytest.mark.parametrize(
    ("substance", "amount", "words"),
    [
        # 20 mg in 4 kg are 5 mg/kg; severe signs from 1 mg/kg in dogs.
        ("selenium", "20 mg", "Published for a dog, not for a cat: severe signs from 1 to 10 mg/kg selenium"),
        ("zinc oxide", "4 g", "severe signs from 50 to 100 mg/kg zinc"),
        ("salt", "40 g", "deaths from 3500 to 4000 mg/kg sodium chloride"),
        ("fluoride", "100 mg", "deaths from 5 to 10 mg/kg sodium fluoride"),
        # Dogs bore 1,000 mg/kg with signs; 10 g in 4 kg are 2,500.
        ("boric acid", "10 g", "1000 mg/kg boric acid was borne with vomiting"),
    ],
)
def test_a_threshold_of_the_other_species_is_told(
    reference: Reference, substance: str, amount: str, words: str
) -> None:
    answer = ask(reference, substance, amount, species="cat", weight="4 kg")
    assert answer.tier is None
    assert answer.action.startswith(NOW)
    assert words in answer.action
    assert "threshold_of_another_species" in codes(answer)


@pytest.mark.parametrize(
    ("substance", "amount"), [("potassium chloride", "20 g"), ("magnesium", "20 g"), ("copper sulfate", "5 g")]
)
def test_a_large_amount_that_no_figure_judges(reference: Reference, substance: str, amount: str) -> None:
    answer = ask(reference, substance, amount, weight="5 kg")
    assert answer.tier is None
    assert answer.action.startswith(NOW)
    assert "no source says from how many mg/kg" in answer.action
    assert "threshold_of_another_species" not in codes(answer)


@pytest.mark.parametrize(
    ("substance", "amount", "species"),
    [
        ("salt", "100 mg", "cat"),
        ("zinc", "5 mg", "cat"),
        ("boric acid", "10 mg", "cat"),
        # A day's food may hold as much by the recorded maximum.
        ("copper", "0.2 mg", "dog"),
        # Below 100 mg/kg, the rule of ours where no maximum of the diet is recorded.
        ("magnesium", "400 mg", "dog"),
    ],
)
def test_an_ordinary_amount_does_not_alarm(reference: Reference, substance: str, amount: str, species: str) -> None:
    answer = ask(reference, substance, amount, species=species, weight="5 kg")
    assert not answer.action.startswith(NOW)


def test_a_daily_threshold_of_the_other_species_counts(reference: Reference) -> None:
    # Dogs: 0.775 mg/kg a day; 20 mg in 4 kg are 5 mg/kg.
    answer = ask(reference, "iodine", "20 mg", species="cat", weight="4 kg")
    assert answer.action.startswith(NOW)
    assert "0.775 mg/kg iodine a day" in answer.action
    row = next(row for row in reference.thresholds_of["iodine", "dog"] if row.per_day)
    assert set(row.source_ids) <= set(answer.source_ids)
