"""The problem answer (RFC 9457) as the OpenAPI document describes it."""

from __future__ import annotations

from marshmallow import fields

from service.schemas import answer_fields as member
from service.schemas.answer_fields import AnswerSchema


class InputErrorSchema(AnswerSchema):
    """One thing to change in the input."""

    parameter = fields.String(metadata={"description": "Name of the query parameter at fault.", "examples": ["weight"]})
    pointer = fields.String(
        metadata={"description": "JSON pointer into the body, as a URI fragment.", "examples": ["#/product/price"]}
    )
    detail = member.text("What to change.", example="'34' has no unit; write a number and a unit, for example '34 kg'")


class KnownEvidenceSchema(AnswerSchema):
    """What the evidence says where no amount is known."""

    verdict = member.text("Verdict; null where none is recorded.", nullable=True)
    summary = member.text("Why.", nullable=True)


class KnownInsteadSchema(AnswerSchema):
    """What the dataset holds where it holds no amount."""

    ingredient = member.text("Id of the ingredient.")
    species = member.text("Species.")
    evidence = member.one(KnownEvidenceSchema, "How good the evidence is.")
    regimen_ids = member.texts("Ids of recorded regimens.")
    hazard_ids = member.texts("Ids of recorded hazards.")
    limit_ids = member.texts("Ids of recorded limits.")
    source_ids = member.texts("Ids of the sources.")


class ProblemSchema(AnswerSchema):
    """Every answer of status 400 and above (RFC 9457)."""

    type = member.text("Absolute address of a page that explains the kind of problem.")
    title = member.text("What kind of problem it is.")
    status = member.integer("HTTP status.", example=422)
    detail = member.text("What happened here and what to change.")
    instance = member.text("Path of the request.", example="/v1/dose")
    errors = fields.List(
        fields.Nested(InputErrorSchema), metadata={"description": "For `invalid-input`: each thing to change."}
    )
    nearest = fields.List(
        fields.String(), metadata={"description": "For unknown ids: ids that look alike, best first."}
    )
    known = fields.Nested(
        KnownInsteadSchema, metadata={"description": "For `no-guidance`: what the dataset does hold."}
    )
    known_releases = fields.List(
        fields.String(), metadata={"description": "For `unknown-dataset-release`: the versions there are."}
    )
