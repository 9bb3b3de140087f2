"""The OpenAPI document: written from the schemas, complete, and true."""

from __future__ import annotations

import json
import re
from collections.abc import Iterator
from typing import Any

import pytest
from flask import Flask
from flask.testing import FlaskClient

from service.schemas.operation import Operation
from service.web.catalogue import OPERATIONS
from service.web.openapi import build, read_example, written
from service.web.operations import openapi_directory
from service.web.problems import KINDS

openapi_spec_validator = pytest.importorskip("openapi_spec_validator")

DOCUMENT: dict[str, Any] = json.loads((openapi_directory() / "openapi.json").read_text("utf-8"))


def described() -> Iterator[tuple[str, str, dict[str, Any]]]:
    """Walk the operations of the document."""
    for path, methods in DOCUMENT["paths"].items():
        for method, operation in methods.items():
            yield path, method, operation


def test_committed_document_is_the_generated_one() -> None:
    text = (openapi_directory() / "openapi.json").read_text("utf-8")
    assert text == written(build()), "run python -m service.web.openapi"


def test_document_is_valid() -> None:
    openapi_spec_validator.validate(DOCUMENT)
    assert DOCUMENT["openapi"] == "3.1.0"


def test_service_serves_the_document(client: FlaskClient) -> None:
    assert client.get("/openapi.json").get_json() == DOCUMENT


def test_every_route_is_described(app: Flask) -> None:
    routes = set()
    for rule in app.url_map.iter_rules():
        # Pages are for people; programs have the addresses below /v1.
        if rule.endpoint == "static" or rule.endpoint.startswith("site_"):
            continue
        path = rule.rule.replace("<id_>", "{id}").replace("<", "{").replace(">", "}")
        offered = re.search(r"\{any\(([^)]*)\):ending\}", path)
        for ending in offered[1].split(", ") if offered else ("",):
            concrete = path.replace(offered[0], ending) if offered else path
            routes |= {(concrete, method.lower()) for method in (rule.methods or set()) - {"HEAD", "OPTIONS"}}
    documented = {(path, method) for path, method, _ in described()}
    # ".json" is a second address of a resource that answers JSON anyway.
    extra = {("/v1/dose.json", "get"), ("/v1/ingredients.json", "get")}
    extra |= {(f"/v1/{name}.json", "post") for name in ("care-note", "compare", "plan")}
    assert routes - documented == extra
    assert documented <= routes


def test_operations_read_as_method_names_and_are_described() -> None:
    ids = [operation["operationId"] for _, _, operation in described()]
    assert len(ids) == len(set(ids))
    for path, _, operation in described():
        assert operation["operationId"].isidentifier()
        assert operation["summary"], path
        assert operation["description"], path
        for parameter in operation["parameters"]:
            assert parameter["description"], (path, parameter["name"])
            schema = parameter["schema"]
            assert {"enum", "maxLength", "maximum", "maxItems"} & set(schema), (path, parameter["name"])


def test_every_problem_status_is_listed() -> None:
    for path, method, operation in described():
        listed = {int(status) for status in operation["responses"]} - {200}
        assert {422, 414, 500} <= listed, path
        assert (413 in listed) == (415 in listed) == (400 in listed) == (method == "post"), path
        assert listed <= {kind.status for kind in KINDS.values()}


def _sub_schemas(value: object) -> Iterator[object]:
    if isinstance(value, dict):
        for key, below in value.items():
            if key in ("properties", "$defs"):
                yield from below.values()
            if key in ("items", "not", "contains"):
                yield below
            if key in ("anyOf", "oneOf", "allOf"):
                yield from below
            yield from _sub_schemas(below)
    elif isinstance(value, list):
        for below in value:
            yield from _sub_schemas(below)


def test_no_schema_is_a_mere_boolean() -> None:
    found = list(_sub_schemas(DOCUMENT["components"]["schemas"]))
    assert len(found) > 100
    assert not [schema for schema in found if isinstance(schema, bool)]


def test_every_schema_and_member_is_described() -> None:
    for name, schema in DOCUMENT["components"]["schemas"].items():
        assert schema["description"], name
        for member, below in schema.get("properties", {}).items():
            assert below.get("description"), (name, member)


def test_texts_and_lists_of_requests_are_bounded() -> None:
    for name, schema in DOCUMENT["components"]["schemas"].items():
        if "additionalProperties" not in schema:
            continue
        assert schema["additionalProperties"] is False, name
        for member, below in schema["properties"].items():
            kinds = below.get("type", [])
            if "string" in kinds:
                assert {"maxLength", "enum"} & set(below), (name, member)
            if "array" in kinds:
                assert "maxItems" in below, (name, member)


WITH_EXAMPLE = [operation for operation in OPERATIONS if operation.example is not None]


@pytest.mark.parametrize("operation", WITH_EXAMPLE, ids=lambda operation: operation.id)
def test_examples_are_marked_invented_and_accepted(client: FlaskClient, operation: Operation) -> None:
    assert operation.example is not None
    example = read_example(operation.example)
    assert example["summary"].startswith("Invented example")
    path = operation.path
    for name, value in (
        ("id", "glucosamine-hydrochloride"),
        ("version", "1.0.0"),
        ("table", "limits"),
        ("slug", "internal"),
    ):
        path = path.replace(f"{{{name}}}", "glucosamine" if "ingredients" in path else value)
    if operation.body is not None:
        response = client.post(path, json=example["request"])
    else:
        response = client.get(path, query_string=example["request"], headers={"Accept": "application/json"})
    assert response.status_code == 200
    if operation.answer is not None:
        assert operation.answer().validate(example["response"]) == {}
        assert set(response.get_json()) == set(example["response"])


@pytest.mark.parametrize("media_type", ["text/csv", "text/html"])
def test_every_table_and_page_has_an_example(media_type: str) -> None:
    found = 0
    for path, _, operation in described():
        content = operation["responses"]["200"]["content"]
        if list(content) == [media_type]:
            found += 1
            example = content[media_type]["example"]
            assert len(example) < 3000, path
            assert example.startswith("<!doctype html>") == (media_type == "text/html")
            assert len(example.splitlines()) > 1
    assert found >= 4


def test_every_json_operation_has_an_example() -> None:
    without = {operation.id for operation in OPERATIONS if operation.answer is not None and operation.example is None}
    assert without == set()
