"""The checksum of what was told."""

from __future__ import annotations

import json
from hashlib import sha256
from typing import Any

import pytest

from service import demo
from service.schemas.care_note import CareNoteBodySchema
from service.web.checksum import canonical, checksum
from service.web.json_document import parse

_SCHEMA = CareNoteBodySchema()
_BODY: dict[str, Any] = {
    "animal": {"species": "dog", "weight_kg": 34},
    "products": [{"id": "p1", "facts": [{"name": "MSM", "amount": "400 mg"}], "units_per_day": 1.5}],
}


def loaded(text: str) -> dict[str, Any]:
    found: dict[str, Any] = _SCHEMA.load(parse(text.encode()))
    return found


def of(body: dict[str, Any]) -> str:
    return checksum(_SCHEMA, loaded(json.dumps(body)))


def test_the_canonical_text_by_hand() -> None:
    text = canonical(_SCHEMA, loaded(json.dumps({**_BODY, "note_date": "2027-02-26", "questions": ['"q" \u00e9']})))
    assert text == (
        '{"animal":{"species":"dog","weight_kg":34},"note_date":"2027-02-26",'
        '"products":[{"facts":[{"amount":"400 mg","name":"MSM"}],"id":"p1","units_per_day":1.5}],'
        '"questions":["\\"q\\" \u00e9"]}'
    )
    assert (
        checksum(_SCHEMA, loaded(json.dumps(_BODY)))
        == sha256(canonical(_SCHEMA, loaded(json.dumps(_BODY))).encode()).hexdigest()
    )


def reversed_members(value: Any) -> Any:  # noqa: ANN401 - any JSON value
    if isinstance(value, dict):
        return {key: reversed_members(value[key]) for key in reversed(value)}
    return [reversed_members(item) for item in value] if isinstance(value, list) else value


def test_the_order_of_members_and_white_space_do_not_change_it() -> None:
    body = demo.care_note_body()
    assert of(reversed_members(body)) == of(body)
    assert checksum(_SCHEMA, loaded(json.dumps(body, indent=7))) == of(body)


@pytest.mark.parametrize("spelling", ["34", "34.0", "34.000", "3.4e1", "3400E-2"])
def test_one_number_has_one_spelling(spelling: str) -> None:
    text = json.dumps(_BODY).replace('"weight_kg": 34', f'"weight_kg": {spelling}')
    assert checksum(_SCHEMA, loaded(text)) == of(_BODY)


@pytest.mark.parametrize(
    "more",
    [
        {"medications": []},
        {"note_date": None},
        {"animal": {**_BODY["animal"], "name": None, "traits": []}},
        {"products": [{**_BODY["products"][0], "unit": "unit", "divisible": "whole", "price": None}]},
        {
            "products": [
                {
                    **_BODY["products"][0],
                    "facts": [{"name": "MSM", "amount": "400 mg", "printed": "MSM 400 mg", "mg": 400}],
                }
            ]
        },
    ],
)
def test_what_tells_nothing_does_not_change_it(more: dict[str, Any]) -> None:
    assert of({**_BODY, **more}) == of(_BODY)


def changes(value: Any, path: tuple[Any, ...] = ()) -> list[tuple[tuple[Any, ...], Any]]:  # noqa: ANN401 - any JSON value
    """List every leaf of a body with another value that is accepted in its place."""
    if isinstance(value, dict):
        return [found for key, item in value.items() for found in changes(item, (*path, key))]
    if isinstance(value, list):
        return [found for key, item in enumerate(value) for found in changes(item, (*path, key))]
    others = {"species": "cat", "divisible": "quarters", "currency": "EUR", "note_date": "2027-02-27"}
    others |= {"start_date": "2027-03-02", "weight": "33 kg"}
    other = others.get(path[-1], value + 1 if isinstance(value, int | float) else f"{value} x")
    return [(path, other)]


def with_change(body: dict[str, Any], path: tuple[Any, ...], value: object) -> dict[str, Any]:
    changed = json.loads(json.dumps(body))
    place = changed
    for key in path[:-1]:
        place = place[key]
    place[path[-1]] = value
    return dict(changed)


def test_every_told_value_changes_it() -> None:
    body = demo.care_note_body()
    found = {path: of(with_change(body, path, value)) for path, value in changes(body)}
    assert len(found) > 40
    assert of(body) not in found.values()
    assert len({*found.values()}) == len(found)
    for name in body:
        if name not in ("animal", "products"):
            assert of({key: value for key, value in body.items() if key != name}) != of(body), name
