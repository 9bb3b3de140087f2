"""A small OpenAPI document, invented, in which one object stands in two places."""

from __future__ import annotations

from typing import Any

LEG = {
    "type": "object",
    "description": "One leg.",
    "required": ["side"],
    "properties": {
        "side": {"type": "string", "description": "Which.", "enum": ["left", "right", None]},
        "length_mm": {"type": ["number", "null"], "description": "How long.", "exclusiveMinimum": 0, "maximum": 900},
    },
}
HORSE = {
    "type": "object",
    "description": "One toy horse.",
    "required": ["name", "front"],
    "properties": {
        "name": {"type": "string", "description": "Its name.", "minLength": 1, "maxLength": 2000},
        "front": {
            "type": "array",
            "description": "In front.",
            "minItems": 2,
            "maxItems": 2,
            "items": {"$ref": "#/components/schemas/Leg"},
        },
        "saddle": {"description": "If any.", "anyOf": [{"$ref": "#/components/schemas/Saddle"}, {"type": "null"}]},
        "colours": {
            "type": "array",
            "description": "Colours.",
            "maxItems": 5,
            "items": {"type": "string", "maxLength": 20},
        },
        "wild": {"type": "boolean", "description": "Whether wild.", "default": False},
    },
}
SADDLE = {
    "type": "object",
    "description": "A saddle.",
    "properties": {"mass_g": {"type": "integer", "description": "Mass.", "minimum": 0}},
}
ANSWER = {
    "type": "object",
    "description": "What is known of a horse.",
    "required": ["horse", "dataset", "sources", "cautions", "notice"],
    "properties": {
        "dataset": {"$ref": "#/components/schemas/Stamp", "description": "Release."},
        "sources": {"type": "array", "description": "Sources.", "items": {"$ref": "#/components/schemas/Stamp"}},
        "cautions": {"type": "array", "description": "Cautions.", "items": {"type": "string"}},
        "notice": {"type": "string", "description": "Notice."},
        "horse": {"$ref": "#/components/schemas/Horse", "description": "The horse."},
        "third": {"$ref": "#/components/schemas/Leg", "description": "A leg more."},
    },
}
COMPONENTS: dict[str, Any] = {
    "Leg": LEG,
    "Horse": HORSE,
    "Saddle": SADDLE,
    "Answer": ANSWER,
    "Stamp": {"type": "object", "description": "A stamp.", "properties": {"version": {"type": "string"}}},
    "Problem": {"type": "object", "description": "A problem.", "properties": {"type": {"type": "string"}}},
}
_PROBLEMS = {
    "422": {"description": "`invalid-input`: Refused.", "content": {}},
    "404": {"description": "`not-found`: Nothing. `no-guidance`: None."},
}


def _json(name: str, value: object) -> dict[str, Any]:
    schema = {"$ref": f"#/components/schemas/{name}"}
    return {"application/json": {"schema": schema, "examples": {"invented": {"summary": "Invented", "value": value}}}}


def _answer(value: object) -> dict[str, Any]:
    return {"200": {"description": "It.", "content": _json("Answer", value)}, **_PROBLEMS}


_BODY = {"required": True, "description": "One object.", "content": _json("Horse", {"name": "Roan's"})}
DOCUMENT: dict[str, Any] = {
    "openapi": "3.1.0",
    "info": {"title": "Toys", "version": "1.0.0", "description": "Wooden toys.\n\n- one\n- two"},
    "tags": [{"name": "toys", "description": "All toys."}, {"name": "rest", "description": "The rest."}],
    "paths": {
        "/toys/{id}": {
            "get": {
                "operationId": "get_toy",
                "tags": ["toys"],
                "summary": "One toy",
                "description": "Looks a toy up.",
                "parameters": [
                    {
                        "name": "id",
                        "in": "path",
                        "required": True,
                        "description": "Its id.",
                        "schema": {"type": "string", "maxLength": 80},
                        "example": "roan",
                    },
                    {
                        "name": "colours",
                        "in": "query",
                        "required": False,
                        "description": "Colours.",
                        "schema": {"type": "array", "maxItems": 3, "items": {"type": "string"}},
                        "example": ["red", "dark blue"],
                    },
                    {
                        "name": "age",
                        "in": "query",
                        "required": False,
                        "description": "Age.",
                        "schema": {"type": "integer"},
                    },
                ],
                "responses": _answer({"horse": {"name": "Roan"}, "legs": [1, 2, 3]}),
            }
        },
        "/toys": {
            "post": {
                "operationId": "make_toy",
                "tags": ["toys"],
                "summary": "A toy",
                "description": "Makes one.",
                "parameters": [],
                "requestBody": _BODY,
                "responses": _answer({}),
            }
        },
        "/toys.html": {
            "post": {
                "operationId": "make_toy_html",
                "tags": ["toys"],
                "summary": "A toy as a page",
                "description": "Makes one.",
                "parameters": [],
                "requestBody": _BODY,
                "responses": {
                    "200": {
                        "description": "It.",
                        "content": {"text/html": {"schema": {"type": "string"}, "example": "<p>"}},
                    }
                },
            }
        },
    },
    "components": {"schemas": COMPONENTS},
}
