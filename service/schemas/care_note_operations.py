"""The operations of ``/v1/care-note``."""

from __future__ import annotations

from service.schemas.animal import PinnedQuerySchema
from service.schemas.care_note import CareNoteBodySchema
from service.schemas.care_note_answer import CareNoteAnswerSchema
from service.schemas.operation import BODY_PROBLEMS, COMPUTED, Operation

_PROBLEMS = (*BODY_PROBLEMS, "unknown-ingredient", "not-found", *COMPUTED)
_DESCRIPTION = (
    "Puts on one record what an animal gets from when, in amounts a day and a unit, with form and salt as the labels "
    "say; its medicines, other supplements and conditions as told; what the screen finds; open questions for the "
    "veterinarian; when to reassess; what to watch for. Nothing is stored, no date is put on it that was not told, and "
    "`reproduce` says how the same note comes again, byte for byte."
)


def _other(ending: str, media_type: str, words: str) -> Operation:
    return Operation(
        id=f"write_care_note_{ending}",
        method="post",
        path=f"/v1/care-note.{ending}",
        tag="care",
        summary=f"The record for a veterinary practice, as {words}",
        description=_DESCRIPTION,
        query=PinnedQuerySchema,
        body=CareNoteBodySchema,
        media_types=(media_type,),
        problems=_PROBLEMS,
        example="care_note",
        linked=False,
    )


OPERATIONS = (
    Operation(
        id="write_care_note",
        method="post",
        path="/v1/care-note",
        tag="care",
        summary="The record to hand to a veterinary practice",
        description=_DESCRIPTION + " Also answers a page and plain text by the `Accept` header.",
        query=PinnedQuerySchema,
        body=CareNoteBodySchema,
        answer=CareNoteAnswerSchema,
        problems=_PROBLEMS,
        example="care_note",
    ),
    _other("html", "text/html", "a page that prints on one sheet"),
    _other("txt", "text/plain", "plain text of at most 78 columns"),
)
