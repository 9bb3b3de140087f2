"""Writes the OpenAPI 3.1 document from the schemas: ``python -m service.web.openapi``.

The service itself only serves the written file; apispec is not imported there.
"""

from __future__ import annotations

import json
from functools import cache
from pathlib import Path
from typing import Any

from apispec import APISpec
from apispec.ext.marshmallow import MarshmallowPlugin
from marshmallow import Schema

from service.domain.common import NOTICE
from service.schemas.batch import LIMITS as BATCH_LIMITS
from service.schemas.batch_limits import LARGEST_BATCH_BYTES
from service.schemas.charts import EXAMPLE_STATE
from service.schemas.operation import Operation
from service.schemas.problem import ProblemSchema
from service.schemas.request_base import RequestSchema
from service.version import VERSION
from service.web.catalogue import OPERATIONS
from service.web.operations import openapi_directory
from service.web.problems import KINDS, MEDIA_TYPE

_DESCRIPTION = f"""Amounts, costs and warnings for joint supplements of dogs and cats, each with its sources.

{NOTICE}

Every `GET` also answers `HEAD`. Every answer of 400 and above is a problem (RFC 9457) in `{MEDIA_TYPE}`, from every
route, whatever the `Accept` header says. Unknown and repeated names in a query or a body are refused. Members may be
added to answers; none is renamed, removed or changes its meaning within `/v1`. What the dataset does not know comes
back as unrecognised or not assessed, never as zero or as a clearance. All products in the examples are invented."""
_TAGS = {
    "dose": "Amounts per day.",
    "labels": "What is printed on a pack, read.",
    "products": "What a product holds, what it costs, and how products compare.",
    "combine": "The cheapest set of products for several targets.",
    "plan": "Courses over days and years, and what they cost.",
    "screen": "What speaks against giving it.",
    "care": "The record for a veterinary practice.",
    "charts": "Pictures to embed in a page or an article, with their numbers.",
    "names": "Ingredients and the names they go by.",
    "forms": "Chemical forms and conversions between them.",
    "dataset": "The data itself.",
    "service": "Index, health, documentation.",
}
_PATH_PARAMETERS: dict[str, tuple[str, dict[str, object], dict[str, str]]] = {
    "id": (
        "Id, in kebab-case.",
        {"type": "string", "minLength": 1, "maxLength": 80},
        {"get_form": "glucosamine-hydrochloride", "get_ingredient": "glucosamine"},
    ),
    "version": ("Version of the release.", {"type": "string", "minLength": 5, "maxLength": 20}, {"": "1.0.0"}),
    "table": ("Name of the table.", {"type": "string", "minLength": 1, "maxLength": 40}, {"": "limits"}),
    "slug": ("Kind of problem.", {"type": "string", "enum": list(KINDS)}, {"": "invalid-input"}),
}

# Queries of the operations that answer a table or a picture and have no file under openapi/examples.
_ONE_DOG = {"species": "dog", "weight": "34 kg", "ingredient": "glucosamine"}
_ONE_WORKBENCH = {"state": EXAMPLE_STATE}
_QUERIES = {
    "get_dose": _ONE_DOG,
    "get_amount_chart": _ONE_DOG,
    "get_comparison_chart": _ONE_WORKBENCH,
    "get_composition_chart": _ONE_WORKBENCH,
    "get_course_chart": _ONE_WORKBENCH,
}


class _Document:
    """Builds the document operation by operation."""

    def __init__(self) -> None:
        self._classes: dict[str, type[Schema]] = {}
        self._plugin = MarshmallowPlugin(schema_name_resolver=self._name)
        self._spec = APISpec(
            title="Fabella",
            version=VERSION,
            openapi_version="3.1.0",
            plugins=[self._plugin],
            info={"description": _DESCRIPTION, "summary": "Amounts, costs and warnings, each with its sources"},
            servers=[{"url": "/", "description": "This server"}],
            tags=[{"name": name, "description": description} for name, description in _TAGS.items()],
        )

    def build(self) -> dict[str, Any]:
        for operation in OPERATIONS:
            self._spec.path(path=operation.path, operations={operation.method: self._operation(operation)})
        document: dict[str, Any] = self._spec.to_dict()
        for name, schema in document["components"]["schemas"].items():
            self._finish(schema, self._classes[name])
        return document

    def _name(self, schema: Schema | type[Schema] | str) -> str:
        found = schema if isinstance(schema, type) else type(schema)
        name = found.__name__.removesuffix("Schema")
        self._classes[name] = found  # type: ignore[assignment]
        return name

    @staticmethod
    def _finish(schema: dict[str, Any], source: type[Schema]) -> None:
        schema["description"] = (source.__doc__ or "").strip()
        # Callers must expect new members in answers; in requests an unknown member is an error.
        schema.pop("additionalProperties", None)
        if issubclass(source, RequestSchema):
            schema["additionalProperties"] = False
            for name in sorted(source.also_accepted):
                schema["properties"][name] = {"description": "Accepted as a read label gives it, and not used."}

    def _operation(self, operation: Operation) -> dict[str, Any]:
        made: dict[str, Any] = {
            "operationId": operation.id,
            "tags": [operation.tag],
            "summary": operation.summary,
            "description": operation.description,
            "parameters": [*self._path_parameters(operation), *self._query_parameters(operation)],
            "responses": {"200": self._success(operation), **self._problems(operation)},
        }
        if operation.body is not None:
            content: dict[str, Any] = {"schema": operation.body, **_examples(operation, "request")}
            made["requestBody"] = {
                "required": True,
                "description": "One JSON object in UTF-8, at most 65,536 bytes and 32 levels deep.",
                "content": {"application/json": content},
            }
        elif operation.text_body:
            made["requestBody"] = {
                "required": True,
                "description": BATCH_LIMITS,
                "content": {media_type: _text_body(operation, media_type) for media_type in operation.text_body},
            }
        return made

    @staticmethod
    def _path_parameters(operation: Operation) -> list[dict[str, Any]]:
        found = []
        for name, (description, schema, examples) in _PATH_PARAMETERS.items():
            if f"{{{name}}}" in operation.path:
                example = examples.get(operation.id, examples.get("", ""))
                parameter = {"name": name, "in": "path", "required": True, "description": description}
                found.append({**parameter, "schema": schema, "example": example})
        return found

    def _query_parameters(self, operation: Operation) -> list[dict[str, Any]]:
        if operation.query is None:
            return []
        converter = self._plugin.converter
        if converter is None:
            raise RuntimeError("the plugin has not joined a specification")
        found = []
        given = query_example(operation)
        for name, field in operation.query().fields.items():
            schema = converter.field2property(field)
            parameter = {
                "name": name,
                "in": "query",
                "required": field.required,
                "description": schema.pop("description"),
            }
            if schema["type"] == "array":
                parameter |= {"style": "form", "explode": False}
            # Tools fill a request in with these; together they make one that is answered.
            example = {"example": given[name]} if name in given else {}
            found.append({**parameter, "schema": schema, **example})
        return found

    @staticmethod
    def _success(operation: Operation) -> dict[str, Any]:
        content: dict[str, Any] = {}
        for media_type in operation.media_types:
            if media_type == "application/json" and operation.answer is not None:
                content[media_type] = {"schema": operation.answer, **_examples(operation, "response")}
            elif media_type == "application/json":
                content[media_type] = {"schema": {"type": "object"}}
            else:
                content[media_type] = {"schema": {"type": "string"}, **_text_example(operation, media_type)}
        return {"description": operation.summary + ".", "content": content}

    @staticmethod
    def _problems(operation: Operation) -> dict[str, Any]:
        by_status: dict[int, list[str]] = {}
        for slug in operation.problems:
            by_status.setdefault(KINDS[slug].status, []).append(f"`{slug}`: {KINDS[slug].title}.")
        answers: dict[str, Any] = {}
        for status, lines in sorted(by_status.items()):
            answer: dict[str, Any] = {
                "description": " ".join(dict.fromkeys(lines)),
                "content": {MEDIA_TYPE: {"schema": ProblemSchema}},
            }
            if status in (429, 503):
                wait = {"description": "Seconds to wait.", "schema": {"type": "integer", "minimum": 0}}
                answer["headers"] = {"Retry-After": wait}
            answers[str(status)] = answer
        return answers


def _examples(operation: Operation, part: str) -> dict[str, Any]:
    if operation.example is None:
        return {}
    example = read_example(operation.example)
    return {"examples": {"invented": {"summary": example["summary"], "value": example[part]}}}


def _text_example(operation: Operation, media_type: str) -> dict[str, Any]:
    """Show the beginning of a table or a page; a page beside JSON at one address, and a ZIP file, have none."""
    if operation.text_body:
        return {"example": batch_example_path(operation, media_type, "response").read_text("utf-8")}
    path = text_example_path(operation, media_type)
    return {"example": path.read_text("utf-8")} if path is not None and path.exists() else {}


def _text_body(operation: Operation, media_type: str) -> dict[str, Any]:
    schema = {"type": "string", "minLength": 1, "maxLength": LARGEST_BATCH_BYTES}
    return {"schema": schema, "example": batch_example_path(operation, media_type, "request").read_text("utf-8")}


def batch_example_path(operation: Operation, media_type: str, part: str) -> Path:
    """Give the file with the ``request`` or the ``response`` of an operation on many rows."""
    ending = "csv" if media_type == "text/csv" else "ndjson"
    return openapi_directory() / "examples" / f"{operation.id}.{part}.{ending}"


def text_example_path(operation: Operation, media_type: str) -> Path | None:
    """Give the file with the example of an operation that answers only a table or a page."""
    ending = {"text/csv": "csv", "text/html": "html"}.get(media_type)
    if ending is None or operation.media_types != (media_type,):
        return None
    return openapi_directory() / "examples" / f"{operation.id}.{ending}"


@cache
def read_example(name: str) -> dict[str, Any]:
    """Read one invented request with its answer."""
    path = openapi_directory() / "examples" / f"{name}.json"
    example: dict[str, Any] = json.loads(path.read_text("utf-8"))
    return example


def query_example(operation: Operation) -> dict[str, Any]:
    """Give the invented query of an operation, empty where it needs none."""
    if operation.example is not None and operation.body is None:
        found: dict[str, Any] = read_example(operation.example)["request"]
        return found
    return next((query for name, query in _QUERIES.items() if operation.id.startswith(name)), {})


def build() -> dict[str, Any]:
    """Build the document."""
    return _Document().build()


def written(document: dict[str, Any]) -> str:
    """Give the text of the file."""
    return json.dumps(document, indent=1, ensure_ascii=False) + "\n"


if __name__ == "__main__":
    (openapi_directory() / "openapi.json").write_text(written(build()), "utf-8")
