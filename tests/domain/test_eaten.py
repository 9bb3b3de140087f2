"""How much was eaten, in mg."""

from __future__ import annotations

from decimal import Decimal

import pytest

from service.domain.eaten import Eaten, read_eaten
from service.domain.errors import InvalidInput
from service.domain.substances import find_substance
from service.reference.release import Reference


def _eaten(reference: Reference, substance: str, amount: str, species: str = "dog") -> Eaten:
    return read_eaten(reference, find_substance(reference, substance), amount, species)


@pytest.mark.parametrize(
    ("substance", "amount", "low", "high"),
    [
        ("milk chocolate", "4 g", "4000", "4000"),
        ("milk chocolate", "2 oz", "56699.04625", "56699.04625"),
        ("milk chocolate", "2-3 g", "2000", "3000"),
        ("milk chocolate", "up to 3 g", "0", "3000"),
        ("milk chocolate", "1.234 g", "1234", "1234"),
        ("vitamin D3", "400 IU", "0.01", "0.01"),
        # 0.789 and 1.036 g/mL (recalled).
        ("ethanol", "30 ml", "23670", "23670"),
        ("propylene glycol", "10 ml", "10360", "10360"),
        ("ethanol", "up to 10 ml", "0", "7890"),
    ],
)
def test_an_amount_in_mg(reference: Reference, substance: str, amount: str, low: str, high: str) -> None:
    found = _eaten(reference, substance, amount)
    assert (found.low_mg, found.high_mg) == (Decimal(low), Decimal(high))


def test_a_salt_keeps_the_mass_of_its_element(reference: Reference) -> None:
    found = _eaten(reference, "ferrous sulfate", "325 mg")
    assert found.high_mg == 325
    # 55.845 / 278.01 of the hydrate, 55.845 / 151.90 of the dried salt.
    assert float(found.moiety_low_mg or 0) == pytest.approx(325 * 55.845 / 278.01, rel=1e-3)
    assert float(found.moiety_high_mg or 0) == pytest.approx(325 * 55.845 / 151.90, rel=1e-3)


@pytest.mark.parametrize(
    ("substance", "amount", "part"),
    [
        ("ibuprofen", "3 tablets", "counts pieces"),
        ("ibuprofen", "200 mg per tablet", "counts pieces"),
        ("ibuprofen", "200 mg per day", "counts pieces"),
        ("ibuprofen", "2 kcal", "cannot be turned into a mass"),
        ("ibuprofen", "400 IU", "cannot be turned into a mass"),
        ("ibuprofen", "at least 3 g", "give the most that can have been eaten"),
        ("ibuprofen", "5 ml", "no density is recorded"),
        ("ibuprofen", "5", "has no unit"),
        ("ibuprofen", "0 mg", "greater than zero"),
        ("ibuprofen", "some", "no number"),
        ("garlic", "2 cloves", "garlic clove, mass: 3 to 7 g"),
        ("macadamia", "5 pieces", "nuts per ounce: 12 per oz"),
    ],
)
def test_what_is_no_mass_is_refused_with_what_to_say(
    reference: Reference, substance: str, amount: str, part: str
) -> None:
    with pytest.raises(InvalidInput) as caught:
        _eaten(reference, substance, amount)
    assert [issue.where for issue in caught.value.issues] == ["amount"]
    assert part in caught.value.issues[0].detail


@pytest.mark.parametrize(
    ("substance", "species", "waits"),
    [("raisins", "dog", False), ("ibuprofen", "dog", False), ("macadamia", "dog", False), ("carob", "dog", True)],
)
def test_a_refusal_is_no_reason_to_wait(reference: Reference, substance: str, species: str, waits: bool) -> None:
    with pytest.raises(InvalidInput) as caught:
        _eaten(reference, substance, "3 pieces", species)
    assert ("poison line now" in caught.value.issues[0].detail) is not waits
