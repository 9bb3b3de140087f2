"""The care note as a whole."""

from __future__ import annotations

from dataclasses import fields, is_dataclass, replace
from decimal import Decimal as D

import pytest

from service.domain.care.note import care_note
from service.domain.care.request import PhaseTold
from service.domain.common import Animal
from service.domain.errors import InvalidInput, UnknownIngredient
from service.domain.products import LabelFact
from tests.domain.care.making import DOG, REFERENCE, START, given, in_phases, note, request, tablet, units


def ids_named(value: object) -> set[str]:
    """Find every source id that a part of the note names."""
    if isinstance(value, tuple):
        return {id_ for item in value for id_ in ids_named(item)}
    if not is_dataclass(value):
        return set()
    own = set(getattr(value, "source_ids", ()))
    return own | {id_ for field in fields(value) for id_ in ids_named(getattr(value, field.name))}


def test_the_same_request_gives_the_same_note() -> None:
    wanted = request(given("2"), medications=("carprofen",), start_date=START)
    assert care_note(REFERENCE, wanted) == care_note(REFERENCE, wanted)


def test_nothing_is_put_on_it_that_was_not_told() -> None:
    written = note()
    assert (written.note_date, written.start_date, written.observations) == (None, None, ())
    assert (written.animal.name, written.animal.identification) == (None, None)


def test_what_was_told_stands_on_it() -> None:
    written = note(
        name="Bramble", identification="cage 4", observations=("limps",), note_date=START, start_date=START,
        animal=Animal("dog", D("34.000"), D("4.5")),
    )  # fmt: skip
    assert (written.animal.name, written.animal.identification, written.animal.age_years) == (
        "Bramble",
        "cage 4",
        D("4.5"),
    )
    assert str(written.animal.weight_kg) == "34"
    assert (written.observations, written.note_date) == (("limps",), START)


def test_every_source_that_is_named_is_listed() -> None:
    written = note(
        in_phases(units("3", weeks=6), units("1")),
        given("1", id="p2", facts=(LabelFact("Devil's claw", "150 mg"),), other_ingredients="birch sugar"),
        medications=("carprofen",),
        conditions=("diabetes",),
        animal=replace(DOG, age_years=D(11)),
    )
    named = ids_named(replace(written, source_ids=()))
    assert named
    assert named == {*written.source_ids}
    assert named <= {*REFERENCE.sources}


def test_how_to_get_it_again() -> None:
    again = note().reproduce
    assert (again.dataset, again.inputs_sha256) == (REFERENCE.stamp.version, "0" * 64)
    assert again.dataset in again.text


def test_an_amount_in_mg_is_given_in_units() -> None:
    wanted = PhaseTold(mg_per_day=D(750), ingredient="glucosamine")
    (product,) = note(in_phases(wanted)).given
    # 750 mg of the form of the guidance: one tablet and a half.
    assert product.phases[0].units_per_day == D("1.5")


def test_an_amount_in_mg_for_an_animal_without_guidance_counts_the_moiety() -> None:
    wanted = PhaseTold(mg_per_day=D(400), ingredient="glucosamine")
    (product,) = note(in_phases(wanted), animal=Animal("cat", D(4), D(9))).given
    # A tablet holds 415.5 mg of the base.
    assert product.phases[0].units_per_day == D(1)


def test_an_amount_of_something_unknown_is_refused() -> None:
    with pytest.raises(UnknownIngredient, match="nosuch"):
        note(in_phases(PhaseTold(mg_per_day=D(1), ingredient="nosuch")))


def test_a_label_that_cannot_be_read_is_refused_where_it_stands() -> None:
    for more, where in (
        ({"products": (given("1", facts=(LabelFact("MSM", "a pinch"),)),)}, "products/0/facts/0/amount"),
        (
            {"other_supplements": (tablet("1", facts=(LabelFact("MSM", "a pinch"),)),)},
            "other_supplements/0/facts/0/amount",
        ),
    ):
        with pytest.raises(InvalidInput) as error:
            care_note(REFERENCE, replace(request(), **more))
        assert error.value.issues[0].where == where


def test_cautions_say_what_it_rests_on() -> None:
    found = [caution.code for caution in note().cautions]
    assert found[0] == "as_told"
    assert len(found) == len({*found})
    assert "common_practice" in found
