"""Rows that ask what ``GET /v1/dose`` asks."""

from __future__ import annotations

from collections.abc import Sequence

from service.domain.dose_answer import DoseAnswer, PhaseDose
from service.domain.dosing import dose
from service.schemas.batch_columns import DOSE, PHASES
from service.schemas.dose import DoseAnswerSchema, DoseQuerySchema
from service.schemas.request_base import RequestField
from service.web import body
from service.web.batch.columns import WEIGHTS, Wanted
from service.web.batch.tasks import Asked, Cells, Task, first_part, read_fields
from service.web.dose import fixed_members, read_request
from service.web.wire import Json

_row = DoseQuerySchema(exclude=("dataset",))
_fields = {name: field for name, field in _row.fields.items() if isinstance(field, RequestField)}
_wanted = Wanted(tuple(_fields), (("species",), WEIGHTS, ("ingredient",)))
_IN_EACH_PHASE = (
    "low_mg",
    "high_mg",
    "moiety_low_mg",
    "moiety_high_mg",
    "divided_doses",
    "days_low",
    "days_high",
    "origin",
)


def _read_cells(cells: Cells) -> Asked:
    return Asked(read_request(read_fields(_fields, cells)))


def _read_object(values: Json) -> Asked:
    return Asked(read_request(body.load(_row, values)))


def _flatten(answer: DoseAnswer, asked: Asked) -> dict[str, object]:
    ideal = answer.ideal_weight
    return {
        "weight_used_kg": answer.weight_kg,
        "form_used": answer.form,
        "moiety": answer.moiety,
        **_phase_cells(answer.phases, _IN_EACH_PHASE, ""),
        "upper_limit_mg": answer.upper_limit.amount_mg if answer.upper_limit else None,
        "ideal_weight_kg": answer.ideal_weight_kg,
        **_phase_cells(ideal.phases if ideal else (), ("low_mg", "high_mg"), "ideal_"),
        "trait_note": " ".join(answer.trait.statements) if answer.trait else None,
        "reassess_after_days": answer.reassess_after_days,
        "evidence_verdict": answer.evidence.verdict,
    }


def _phase_cells(phases: Sequence[PhaseDose], members: Sequence[str], prefix: str) -> dict[str, object]:
    return {
        f"{prefix}{phase.phase}_{member}": getattr(phase, member)
        for phase in phases
        if phase.phase in PHASES
        for member in members
    }


TASK = Task(
    name="dose",
    members=_wanted,
    answer_schema=DoseAnswerSchema,
    wanted=lambda names: _wanted,
    answered=lambda names: tuple(DOSE),
    read_cells=_read_cells,
    read_object=_read_object,
    answer=dose,
    flatten=_flatten,
    column_of=first_part,
    fixed=fixed_members,
)
