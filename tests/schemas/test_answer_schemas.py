"""Answer schemas describe exactly what the domain gives: a field that is added there must be described here."""

from __future__ import annotations

from dataclasses import fields
from typing import Any

import pytest
from marshmallow import Schema

from service.domain import compare_answer, converting, describing, dose_answer, near_misses, normalising, resolving
from service.domain import screening_answers as screening
from service.domain.common import Caution
from service.reference import records
from service.reference.release import DatasetStamp
from service.schemas import (
    answer_fields,
    compare,
    convert,
    dataset_rows,
    dose,
    envelope,
    forms,
    ingredients,
    normalise,
    resolve,
    screen,
)

_ENVELOPE = {"dataset", "sources", "notice"}
TOP_LEVEL: list[tuple[type[Any], type[Schema]]] = [
    (dose_answer.DoseAnswer, dose.DoseAnswerSchema),
    (converting.ConvertAnswer, convert.ConvertAnswerSchema),
    (normalising.NormaliseAnswer, normalise.NormaliseAnswerSchema),
    (compare_answer.CompareAnswer, compare.CompareAnswerSchema),
    (screening.ScreenAnswer, screen.ScreenAnswerSchema),
    (resolving.Resolution, resolve.ResolveAnswerSchema),
    (describing.IngredientAnswer, ingredients.IngredientAnswerSchema),
    (describing.FormAnswer, forms.FormAnswerSchema),
]
NESTED: list[tuple[type[Any], type[Schema]]] = [
    (Caution, envelope.CautionSchema),
    (DatasetStamp, envelope.DatasetStampSchema),
    (dose_answer.Band, dose.BandSchema),
    (dose_answer.PhaseDose, dose.PhaseDoseSchema),
    (dose_answer.UpperLimit, dose.UpperLimitSchema),
    (dose_answer.TrialAmount, dose.TrialAmountSchema),
    (dose_answer.EvidenceSummary, dose.EvidenceSchema),
    (dose_answer.IdealWeight, dose.IdealWeightSchema),
    (dose_answer.TraitNote, dose.TraitNoteSchema),
    (normalising.NormalisedFact, normalise.NormalisedFactSchema),
    (normalising.LabelHazard, normalise.LabelHazardSchema),
    (normalising.LabelItem, normalise.LabelItemSchema),
    (compare_answer.TargetRange, compare.TargetRangeSchema),
    (compare_answer.TargetResult, compare.TargetResultSchema),
    (compare_answer.CompareRow, compare.CompareRowSchema),
    (screening.Finding, screen.FindingSchema),
    (screening.Recognised, screen.RecognisedSchema),
    (screening.Unrecognised, screen.UnrecognisedSchema),
    (screening.NotAssessed, screen.NotAssessedSchema),
    (screening.Statement, screen.StatementSchema),
    (screening.Total, screen.TotalSchema),
    (resolving.Meaning, resolve.MeaningSchema),
    (near_misses.NearMiss, resolve.NearMissSchema),
    (describing.IngredientItem, ingredients.IngredientItemSchema),
    (describing.NameItem, ingredients.NameItemSchema),
    (describing.HazardItem, ingredients.HazardItemSchema),
    (describing.FormAnswer, forms.FormInListSchema),
    (records.Regimen, dataset_rows.RegimenSchema),
    (records.Guidance, dataset_rows.GuidanceSchema),
    (records.Limit, dataset_rows.LimitSchema),
    (records.Belief, dataset_rows.BeliefSchema),
    (records.Hazard, dataset_rows.HazardSchema),
    (records.Threshold, dataset_rows.ThresholdSchema),
    (records.Interaction, dataset_rows.InteractionSchema),
]


def _names(record: type[Any]) -> set[str]:
    return {field.name for field in fields(record)}


@pytest.mark.parametrize(("record", "schema"), TOP_LEVEL, ids=lambda one: one.__name__)
def test_whole_answers(record: type[Any], schema: type[Schema]) -> None:
    assert set(schema().fields) == _names(record) - {"source_ids"} | _ENVELOPE


@pytest.mark.parametrize(("record", "schema"), NESTED, ids=lambda one: one.__name__)
def test_parts_of_answers(record: type[Any], schema: type[Schema]) -> None:
    assert set(schema().fields) == _names(record)


@pytest.mark.parametrize(("_", "schema"), [*TOP_LEVEL, *NESTED], ids=lambda one: one.__name__)
def test_every_member_is_required(_: type[Any], schema: type[Schema]) -> None:
    assert all(field.required for field in schema().fields.values())


class _Exact(answer_fields.AnswerSchema):
    number = answer_fields.number("x", nullable=True)
    integer = answer_fields.integer("x")
    flag = answer_fields.boolean("x")


@pytest.mark.parametrize(
    ("changes", "at_fault"),
    [
        ({}, None),
        ({"number": None}, None),
        ({"number": "1"}, "number"),
        ({"number": True}, "number"),
        ({"number": float("nan")}, "number"),
        ({"integer": 1.0}, "integer"),
        ({"integer": False}, "integer"),
        ({"integer": None}, "integer"),
        ({"flag": 1}, "flag"),
        ({"new": 1}, "new"),
    ],
)
def test_types_are_exact(changes: dict[str, Any], at_fault: str | None) -> None:
    faults = _Exact().validate({"number": 1.5, "integer": 1, "flag": True, **changes})
    assert list(faults) == ([] if at_fault is None else [at_fault])
