"""Members that every computed answer carries beside its result."""

from __future__ import annotations

from service.domain.common import NOTICE
from service.schemas import answer_fields as member
from service.schemas.answer_fields import AnswerSchema

ORIGINS = ("read", "cited", "common_practice", "memory")
ORIGIN_MEANING = (
    "How the value is known: `read` (seen in the publication), `cited` (quoted by a publication that was seen), "
    "`common_practice` (no source), `memory` (recalled, not checked)."
)


class DatasetStampSchema(AnswerSchema):
    """Which dataset release an answer was computed from."""

    version = member.text("Version of the dataset release.", example="1.0.0")
    sha256 = member.text("SHA-256 of the release's descriptor, hexadecimal.")
    released = member.text("Day of release.", example="2024-05-01")


class SourceSchema(AnswerSchema):
    """One source an answer rests on."""

    id = member.text("Id of the source, as used in `source_ids`.", example="invented-trial-2001")
    citation = member.text("Who, when, what, where.")
    url = member.text("Where it can be found; null where no address is recorded.", nullable=True)
    origin = member.text(ORIGIN_MEANING, among=ORIGINS)


class CautionSchema(AnswerSchema):
    """Something the reader must not miss."""

    code = member.text("Stable word for programs.", example="common_practice")
    level = member.text("How loud it is.", among=("info", "caution", "warning"))
    text = member.text("One sentence for people.")


class ComputedAnswerSchema(AnswerSchema):
    """Base of every computed answer."""

    dataset = member.one(
        DatasetStampSchema, "Release the answer was computed from; pin it with the query parameter `dataset`."
    )
    sources = member.many(SourceSchema, "Every source that the answer's `source_ids` name.")
    cautions = member.many(CautionSchema, "What the reader must not miss.")
    notice = member.text("Information, not a prescription.", example=NOTICE)
