"""Rows that ask what ``POST /v1/normalise`` asks: one product a row, its label facts in numbered columns.

One row a product, not one row a fact: the caller's row then stays one row, and what is refused is one product.
"""

from __future__ import annotations

import re
from typing import Any

from service.domain.normalising import NormaliseAnswer, normalise
from service.schemas.batch_columns import FACT, FACT_PARTS_GIVEN, MOST_FACTS, normalise_columns
from service.schemas.normalise import NormaliseAnswerSchema, NormaliseBodySchema
from service.schemas.product import FactSchema, ProductSchema, ServingSchema
from service.schemas.request_base import RequestField
from service.web import body
from service.web.batch.columns import Wanted
from service.web.batch.tasks import Asked, Cells, Task, read_fields
from service.web.products import read_product
from service.web.wire import Json

_WHERE = "product"
_row = NormaliseBodySchema()
_NUMBERED = {
    f"fact_{number}_{part}": (number, part) for number in range(1, MOST_FACTS + 1) for part in FACT_PARTS_GIVEN
}
_FACT_PATH = re.compile(f"{_WHERE}/facts/([0-9]+)/([a-z]+)")
_product = {name: field for name, field in ProductSchema().fields.items() if isinstance(field, RequestField)}
_serving = ServingSchema().fields
_fact = FactSchema().fields
_SERVING = {f"serving_{name}": name for name in _serving}


def _scalar_fields() -> dict[str, RequestField]:
    of_serving = {column: _serving[name] for column, name in _SERVING.items()}
    return {**_product, **{name: field for name, field in of_serving.items() if isinstance(field, RequestField)}}


_fields = _scalar_fields()
_optional = {name: field for name, field in _fields.items() if name not in _SERVING}


def _numbers(names: tuple[str, ...]) -> tuple[int, ...]:
    plain = (name.strip() for name in names)
    return tuple(sorted({_NUMBERED[name][0] for name in plain if name in _NUMBERED}))


def _wanted(names: tuple[str, ...]) -> Wanted:
    numbers = _numbers(names)
    facts = tuple(f"fact_{number}_{part}" for number in numbers or (1,) for part in FACT_PARTS_GIVEN)
    needed = [("fact_1_name", "other_ingredients")] if not numbers else []
    return Wanted((*_fields, *facts), (*needed, *((f"fact_{number}_name",) for number in numbers)))


def _read_cells(cells: Cells) -> Asked:
    numbers = tuple(sorted({_NUMBERED[name][0] for name in cells if name in _NUMBERED}))
    given = {name: value for name, value in read_fields(_optional, cells).items() if value is not None}
    facts = [_read_fact(number, cells) for number in numbers]
    product = read_product({**given, **_read_serving(cells), "facts": facts}, _WHERE)
    return Asked(product, numbers)


def _read_serving(cells: Cells) -> dict[str, Any]:
    if not any(column in cells for column in _SERVING):
        return {}
    values = read_fields({column: _fields[column] for column in _SERVING}, cells)
    return {"serving": {name: values[column] for column, name in _SERVING.items()}}


def _read_fact(number: int, cells: Cells) -> dict[str, Any]:
    columns = {f"fact_{number}_{part}": _fact[part] for part in FACT_PARTS_GIVEN}
    values = read_fields({name: field for name, field in columns.items() if isinstance(field, RequestField)}, cells)
    return {part: values[f"fact_{number}_{part}"] for part in FACT_PARTS_GIVEN}


def _read_object(values: Json) -> Asked:
    return Asked(read_product(body.load(_row, values)["product"], _WHERE))


def _flatten(answer: NormaliseAnswer, asked: Asked) -> dict[str, object]:
    certain = [one.hazard for one in answer.hazards if one.match == "exact"]
    possible = [one.hazard for one in answer.hazards if one.match != "exact"]
    return {
        "cost_per_unit": answer.cost_per_unit,
        "label_flags": answer.label_flags,
        "hazards": tuple(dict.fromkeys(certain)),
        "possible_hazards": tuple(dict.fromkeys(possible)),
        "unrecognised": answer.unrecognised,
        "absence_claims": answer.statements,
        **{
            f"fact_{number}_{member}": getattr(fact, member)
            for number, fact in zip(asked.facts, answer.facts, strict=True)
            for member in FACT
        },
    }


def _column_of(path: str, facts: tuple[int, ...]) -> str:
    found = _FACT_PATH.fullmatch(path)
    if found is not None and int(found[1]) < len(facts):
        return f"fact_{facts[int(found[1])]}_{found[2]}"
    return path.removeprefix(f"{_WHERE}/").replace("/", "_")


TASK = Task(
    name="normalise",
    members=Wanted(tuple(_row.fields), ()),
    answer_schema=NormaliseAnswerSchema,
    wanted=_wanted,
    answered=lambda names: tuple(normalise_columns(_numbers(names))),
    read_cells=_read_cells,
    read_object=_read_object,
    answer=normalise,
    flatten=_flatten,
    column_of=_column_of,
)
