"""What was eaten, from ids and plain words."""

from __future__ import annotations

import pytest

from service.domain.errors import InvalidInput, UnknownSubstance
from service.domain.substances import find_substance
from service.reference.release import Reference


@pytest.mark.parametrize(
    ("text", "hazard", "form"),
    [
        ("xylitol", "xylitol", "xylitol"),
        ("five-htp", "five-htp", None),
        ("cyanogenic-kernel", "cyanogenic-kernel", None),
        ("vitamin-d3", "vitamin-d3", "cholecalciferol"),
        ("Total methylxanthines (theobromine + caffeine)", "methylxanthines", None),
        ("ferrous-fumarate", "iron", "ferrous-fumarate"),
        ("zinc-oxide", "zinc", "zinc-oxide"),
        ("70 % dark chocolate", "cocoa", None),
        ("ibuprofen 200 mg tablet", "ibuprofen", None),
        ("  Milk   Chocolate ", "cocoa", None),
        ("ferric hydroxide", "iron", None),
        ("carob products", "carob", None),
        ("kelp", "iodine", None),
        ("cellulose", "cellulose", None),
    ],
)
def test_words_and_ids_lead_to_a_hazard(reference: Reference, text: str, hazard: str, form: str | None) -> None:
    found = find_substance(reference, text)
    assert found.hazards[0].id == hazard
    assert not found.not_understood
    if form is not None:
        assert found.reading.form is not None
        assert found.reading.form.id == form


def test_every_hazard_is_found_by_id_and_by_name(reference: Reference) -> None:
    for row in reference.hazards.values():
        for text in (row.id, row.name, row.name.upper()):
            assert [hazard.id for hazard in find_substance(reference, text).hazards] == [row.id], text


def test_every_material_with_a_content_factor_is_found(reference: Reference) -> None:
    for rows in reference.content_factors_of.values():
        for row in rows:
            assert row.hazard_id in {hazard.id for hazard in find_substance(reference, row.material).hazards}, row.id


def test_what_is_known_and_not_recorded_as_harmful(reference: Reference) -> None:
    found = find_substance(reference, "MSM")
    assert (found.ingredient, found.hazards) == ("msm", ())


@pytest.mark.parametrize(
    ("text", "nearest"), [("xylitoll", "Xylitol"), ("choclate", "chocolate"), ("ibuprophen", "ibuprofen")]
)
def test_a_slip_is_not_accepted(reference: Reference, text: str, nearest: str) -> None:
    with pytest.raises(UnknownSubstance) as caught:
        find_substance(reference, text)
    assert nearest in caught.value.nearest


def test_what_means_nothing_is_not_called_harmless(reference: Reference) -> None:
    with pytest.raises(UnknownSubstance) as caught:
        find_substance(reference, "zzyzx blorb")
    assert caught.value.nearest == ()
    assert "poison line now" in str(caught.value)


def test_a_denial_names_nothing_that_was_eaten(reference: Reference) -> None:
    with pytest.raises(InvalidInput) as caught:
        find_substance(reference, "no xylitol")
    assert [issue.where for issue in caught.value.issues] == ["substance"]


def test_a_slip_beside_a_known_name_is_reported(reference: Reference) -> None:
    found = find_substance(reference, "chocolate with xylitoll")
    assert [hazard.id for hazard in found.hazards] == ["cocoa"]
    assert [miss.hazard for miss in found.possible] == ["xylitol"]
    assert found.not_understood == ("xylitoll",)


def test_a_medicine_is_named_as_one(reference: Reference) -> None:
    with pytest.raises(UnknownSubstance) as caught:
        find_substance(reference, "carprofen")
    assert "as a medicine (carprofen)" in str(caught.value)
    assert "`medications`" in str(caught.value)
    assert "poison line now" in str(caught.value)


def test_a_changed_name_is_another_substance(reference: Reference) -> None:
    with pytest.raises(UnknownSubstance) as caught:
        find_substance(reference, "neo-synephrine")
    assert caught.value.nearest
