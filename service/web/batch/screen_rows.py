"""Rows that ask what ``/v1/screen`` asks: cells as its ``GET`` takes them, objects as its ``POST`` takes them."""

from __future__ import annotations

from collections.abc import Iterable

from service.domain.screening import screen
from service.domain.screening_answers import Finding, ScreenAnswer
from service.schemas.batch_columns import SCREEN
from service.schemas.request_base import RequestField
from service.schemas.screen import ScreenAnswerSchema, ScreenBodySchema, ScreenQuerySchema
from service.web import body
from service.web.batch.columns import Wanted
from service.web.batch.tasks import Asked, Cells, Task, first_part, read_fields
from service.web.screen import request_of_body, request_of_query
from service.web.wire import Json

_row = ScreenBodySchema()
_query = ScreenQuerySchema(exclude=("dataset",))
_fields = {name: field for name, field in _query.fields.items() if isinstance(field, RequestField)}
_wanted = Wanted(tuple(_fields), (("species",), ("ingredients_text",)))


def _read_cells(cells: Cells) -> Asked:
    return Asked(request_of_query(read_fields(_fields, cells)))


def _read_object(values: Json) -> Asked:
    return Asked(request_of_body(body.load(_row, values)))


def _flatten(answer: ScreenAnswer, asked: Asked) -> dict[str, object]:
    gravest = answer.findings[0] if answer.findings else None
    return {
        "weight_used_kg": answer.weight_kg,
        "verdict": answer.verdict,
        "finding_count": len(answer.findings),
        "findings": [_finding(one) for one in answer.findings],
        "gravest_effect": gravest.effect if gravest else None,
        "gravest_action": gravest.action if gravest else None,
        "taken_as": _once(f"{one.text} = {one.id}" for one in answer.taken_as),
        "recognised_ids": _once(one.id or one.hazard for one in answer.recognised),
        "unrecognised": _once(one.text for one in answer.unrecognised),
        "not_assessed": [f"{one.a} + {one.b}" for one in answer.not_assessed],
        "absence_claims": [one.text for one in answer.statements],
    }


def _finding(found: Finding) -> str:
    return " ".join((found.level, found.kind, *found.subjects, *(["(favourable)"] if found.favourable else [])))


def _once(values: Iterable[str | None]) -> list[str]:
    return list(dict.fromkeys(value for value in values if value))


TASK = Task(
    name="screen",
    members=Wanted(tuple(_row.fields), ()),
    answer_schema=ScreenAnswerSchema,
    wanted=lambda names: _wanted,
    answered=lambda names: tuple(SCREEN),
    read_cells=_read_cells,
    read_object=_read_object,
    answer=screen,
    flatten=_flatten,
    column_of=first_part,
)
