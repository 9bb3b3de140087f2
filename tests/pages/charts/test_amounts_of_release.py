"""From a release to the chart of amounts over body weight."""

from __future__ import annotations

from decimal import Decimal

import pytest

from service.domain.common import WEIGHT_RANGE_KG, Animal
from service.domain.dosing import DoseRequest, dose
from service.domain.errors import NoGuidance, UnknownForm
from service.pages.charts.amount_over_weight import draw_amount_over_weight
from service.pages.charts.amount_words import told_of_asked
from service.pages.charts.amounts_of_release import amounts_of_release
from service.pages.charts.chart import Look
from service.reference import releases as dataset_releases
from service.reference.release import Reference
from tests.pages.charts.inventing import NARROW, WIDE
from tests.pages.charts.reading import assert_sound


@pytest.fixture(scope="module", params=["newest", "1.0.0"])
def reference(request: pytest.FixtureRequest) -> Reference:
    """Give the newest release, and the first."""
    found = dataset_releases.load_all()
    return found.newest if request.param == "newest" else found.get(request.param)


def asked(ingredient: str, weight_kg: str | None = None, species: str = "dog", form: str | None = None) -> DoseRequest:
    """Ask for a chart."""
    weight = Decimal(weight_kg) if weight_kg is not None else None
    return DoseRequest(Animal(species, weight), ingredient, form)


@pytest.mark.parametrize("look", [WIDE, NARROW], ids=["wide", "narrow"])
@pytest.mark.parametrize("weight_kg", [None, "0.1", "34", "120"])
def test_every_ingredient_with_guidance_is_drawn(reference: Reference, weight_kg: str | None, look: Look) -> None:
    assert reference.guidance_of
    for ingredient, species in reference.guidance_of:
        weight = weight_kg and str(min(Decimal(weight_kg), WEIGHT_RANGE_KG[species][1]))
        data = amounts_of_release(reference, asked(ingredient, weight, species))
        chart = draw_amount_over_weight(data, reference.stamp, look)
        reading = assert_sound(chart)
        drawn = {mark.regimen_id for mark in data.published if mark.points}
        assert drawn <= set(reading.marks())
        # On a wide chart every drawn regimen has its id beside it.
        if look is WIDE:
            assert drawn <= set(reading.texts()), ingredient
        if data.asked is not None:
            assert ", ".join(told_of_asked(data)) in ", ".join(reading.texts()), ingredient
        assert len(chart.svg.encode()) < 15_000


def test_guidance_of_the_chart_is_that_of_a_dose(reference: Reference) -> None:
    for ingredient, species in reference.guidance_of:
        data = amounts_of_release(reference, asked(ingredient, "20" if species == "dog" else "4", species))
        for band in data.bands:
            for place in (band.points[0], band.points[-1]):
                # The end of a band belongs to the next one; a little below it the amount is that of the band.
                weight_kg = place.weight_kg if place is band.points[0] else place.weight_kg * Decimal("0.999999")
                answer = dose(reference, DoseRequest(Animal(species, weight_kg), ingredient))
                phase = next(phase for phase in answer.phases if phase.phase == band.phase)
                assert float(place.low_mg) == pytest.approx(float(phase.low_mg), rel=2e-5)
                assert float(place.high_mg) == pytest.approx(float(phase.high_mg), rel=2e-5)


def test_straight_lines_are_told_by_their_ends(reference: Reference) -> None:
    glucosamine = amounts_of_release(reference, asked("glucosamine"))
    assert [(band.phase, len(band.points)) for band in glucosamine.bands] == [("loading", 2), ("maintenance", 2)]


def test_published_bands_keep_their_steps(reference: Reference) -> None:
    (band,) = amounts_of_release(reference, asked("boswellia-serrata")).bands
    weights = [point.weight_kg for point in band.points]
    # Steps of the published regimen: at 25, 40, 50 and 60 kg, twice each.
    assert [weight for weight in weights if weights.count(weight) == 2] == [25, 25, 40, 40, 50, 50, 60, 60]


def test_chart_reaches_as_far_as_the_animal(reference: Reference) -> None:
    assert amounts_of_release(reference, asked("msm")).from_kg == 1
    assert amounts_of_release(reference, asked("msm", "0.4")).from_kg == Decimal("0.4")
    heavy = amounts_of_release(reference, asked("msm", "110"))
    assert heavy.to_kg == 110
    assert heavy.asked is not None
    assert heavy.asked.weight_kg == 110


def test_chart_tells_evidence_and_custom(reference: Reference) -> None:
    data = amounts_of_release(reference, asked("glucosamine"))
    assert data.subject.startswith("Dogs. Evidence")
    assert "rule of the trade with no published source" in data.notes
    assert "drawn from 1 to 80 kg" in data.notes
    assert "from 0.1 to 120 kg" in data.notes


def test_other_form_is_restated(reference: Reference) -> None:
    base = amounts_of_release(reference, asked("glucosamine", "34", form="glucosamine-base"))
    assert base.substance == reference.forms["glucosamine-base"].name
    assert base.asked is not None
    # 500 mg of hydrochloride hold 415.46 mg of glucosamine (179.17 of 215.63 g/mol, table forms).
    assert float(dict(base.asked.amounts)["maintenance"].low_mg) == pytest.approx(415.46, abs=0.01)


def test_regimens_say_how_they_were_stated(reference: Reference) -> None:
    by_id = {mark.regimen_id: mark for mark in amounts_of_release(reference, asked("glucosamine")).published}
    assert by_id["d012"].stated == "15 mg per lb per day"
    assert by_id["d015"].stated == "2 multiple of maintenance"
    assert by_id["d015"].why_not_drawn == "stated as a multiple of the maintenance amount"
    assert by_id["d008"].stated == ""


def test_what_has_no_amount_is_refused(reference: Reference) -> None:
    with pytest.raises(NoGuidance, match="holds no amount of it for a cat"):
        amounts_of_release(reference, asked("glucosamine", species="cat"))
    with pytest.raises(UnknownForm, match="'none-such'"):
        amounts_of_release(reference, asked("glucosamine", form="none-such"))
