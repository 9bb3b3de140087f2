"""Index, health, readiness, the OpenAPI document, problem pages: what they answer."""

from __future__ import annotations

from service.schemas import answer_fields as member
from service.schemas.answer_fields import AnswerSchema
from service.schemas.envelope import DatasetStampSchema
from service.schemas.operation import Operation
from service.schemas.request_base import RequestSchema

_NO_QUERY = ("invalid-input", "uri-too-long", "not-acceptable", "internal")


class NoQuerySchema(RequestSchema):
    """An endpoint without query parameters; a given one is refused all the same."""


class LinkSchema(AnswerSchema):
    """One address of the service."""

    name = member.text("Name of the operation.", example="get_dose")
    method = member.text("HTTP method.", example="GET")
    href = member.text("Path, with `{...}` where an id, a version or a name belongs.", example="/v1/dose")
    templated = member.boolean("Whether the path has such a place to fill in.")
    summary = member.text("What it answers.")


class IndexAnswerSchema(AnswerSchema):
    """Where everything is."""

    api_version = member.text("Version of the service.", example="1.0.0")
    dataset_version = member.text("Newest dataset release.", example="1.0.0")
    dataset = member.one(DatasetStampSchema, "Newest dataset release.")
    links = member.many(LinkSchema, "Every address.")
    notice = member.text("Information, not a prescription.")


class HealthAnswerSchema(AnswerSchema):
    """Whether the process answers."""

    status = member.text("Always `ok`.", among=("ok",))


class ReadinessAnswerSchema(AnswerSchema):
    """Whether a verified release is loaded."""

    status = member.text("Always `ready`; otherwise the answer is the problem `not-ready`.", among=("ready",))
    dataset = member.one(DatasetStampSchema, "Newest dataset release.")


class ProblemPageSchema(AnswerSchema):
    """What one kind of problem means."""

    type = member.text("Absolute address of this page, the `type` of the problem.")
    slug = member.text("Kind of problem.", example="invalid-input")
    status = member.integer("HTTP status.", example=422)
    title = member.text("Title.")
    meaning = member.text("What it means.")
    remedy = member.text("What a caller can do.")


class ProblemPagesSchema(AnswerSchema):
    """Every kind of problem."""

    problems = member.many(ProblemPageSchema, "The kinds.")


OPERATIONS = (
    Operation(
        id="get_index",
        path="/v1",
        tag="service",
        summary="Links to everything, and versions",
        description="Start here.",
        answer=IndexAnswerSchema,
        problems=(*_NO_QUERY, "not-ready"),
        example="index",
        linked=False,
    ),
    Operation(
        id="get_health",
        path="/healthz",
        tag="service",
        summary="Whether the process answers",
        description="For liveness probes. Needs no dataset.",
        answer=HealthAnswerSchema,
        problems=_NO_QUERY,
        example="health",
    ),
    Operation(
        id="get_readiness",
        path="/readyz",
        tag="service",
        summary="Whether a verified dataset release is loaded",
        description="For readiness probes.",
        answer=ReadinessAnswerSchema,
        problems=(*_NO_QUERY, "not-ready"),
        example="readiness",
    ),
    Operation(
        id="get_openapi",
        path="/openapi.json",
        tag="service",
        summary="This document",
        description="OpenAPI 3.1.",
        problems=_NO_QUERY,
    ),
    Operation(
        id="list_problems",
        path="/problems",
        tag="service",
        summary="Every kind of problem",
        description="A page; JSON by the `Accept` header.",
        answer=ProblemPagesSchema,
        media_types=("application/json", "text/html"),
        problems=_NO_QUERY,
        example="problems",
    ),
    Operation(
        id="get_problem",
        path="/problems/{slug}",
        tag="service",
        summary="What one kind of problem means",
        description="A page; JSON by the `Accept` header.",
        answer=ProblemPageSchema,
        media_types=("application/json", "text/html"),
        problems=(*_NO_QUERY, "not-found"),
        example="problem",
    ),
)
