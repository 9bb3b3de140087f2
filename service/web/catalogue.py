"""Every operation of the service, in the order of the OpenAPI document."""

from __future__ import annotations

from service.schemas import (
    batch,
    care_note_operations,
    charts,
    combine,
    compare,
    convert,
    dataset,
    dose,
    exposure,
    forms,
    ingredients,
    labels,
    normalise,
    operations,
    plan_answer,
    resolve,
    screen,
)
from service.schemas.operation import Operation

OPERATIONS: tuple[Operation, ...] = (
    *operations.OPERATIONS[:1],
    *dose.OPERATIONS,
    *ingredients.OPERATIONS,
    *resolve.OPERATIONS,
    *forms.OPERATIONS,
    *convert.OPERATIONS,
    *labels.OPERATIONS,
    *normalise.OPERATIONS,
    *compare.OPERATIONS,
    *combine.OPERATIONS,
    *screen.OPERATIONS,
    *exposure.OPERATIONS,
    *plan_answer.OPERATIONS,
    *care_note_operations.OPERATIONS,
    *charts.OPERATIONS,
    *batch.OPERATIONS,
    *dataset.OPERATIONS,
    *operations.OPERATIONS[1:],
)
