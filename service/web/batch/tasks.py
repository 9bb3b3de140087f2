"""What a batch can ask of each row: the three operations, from plain cells or from an object."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Any

from marshmallow import Schema, ValidationError

from service.reference.release import Reference
from service.schemas.request_base import RequestField
from service.web.batch.columns import Wanted
from service.web.envelope import Fixed
from service.web.faults import invalid_input

Cells = Mapping[str, str]


@dataclass(frozen=True, slots=True)
class Asked:
    """One question to the domain. ``facts`` are the numbers of the label facts that were given, in order."""

    request: Any
    facts: tuple[int, ...] = ()


@dataclass(frozen=True, slots=True)
class Task:
    """One operation.

    ``read_cells`` and ``read_object`` turn a row into a question, ``answer`` asks the domain, ``flatten`` lays an
    answer out for the columns that ``answered`` names. ``members`` are the members of an object that are read.
    """

    name: str
    members: Wanted
    answer_schema: type[Schema]
    wanted: Callable[[tuple[str, ...]], Wanted]
    answered: Callable[[tuple[str, ...]], tuple[str, ...]]
    read_cells: Callable[[Cells], Asked]
    read_object: Callable[[Any], Asked]
    answer: Callable[[Reference, Any], Any]
    flatten: Callable[[Any, Asked], dict[str, object]]
    column_of: Callable[[str, tuple[int, ...]], str]
    fixed: Callable[[Any], Fixed | None] = lambda answer: None


def first_part(path: str, facts: tuple[int, ...]) -> str:
    """Name the column of a path where the two are the same but for what stands below."""
    return path.partition("/")[0]


def read_fields(fields: Mapping[str, RequestField], cells: Cells) -> dict[str, Any]:
    """Read cells as the values of a query are read.

    Parameters
    ----------
    fields
        Column names and how each is read.
    cells
        What stands in the row; empty cells are left out.

    Returns
    -------
    dict
        A value for every field, ``None`` where there is none.

    Raises
    ------
    Fault
        ``invalid-input`` with one error per column at fault.
    """
    values: dict[str, Any] = dict.fromkeys(fields)
    faults = []
    for name, field in fields.items():
        text = cells.get(name)
        if text is None:
            if field.required:
                faults.append({"parameter": name, "detail": "is required"})
            continue
        try:
            values[name] = field.from_text(text)
        except ValidationError as error:
            faults.append({"parameter": name, "detail": str(error.messages[0])})
    if faults:
        raise invalid_input(faults)
    return values
