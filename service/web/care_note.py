"""``POST /v1/care-note``."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from flask import Blueprint, Response, render_template

from service.domain.care.answer import CareNote
from service.domain.care.note import care_note
from service.domain.care.request import CareRequest, PhaseTold, ProductTold
from service.pages.care_note import sheet_of
from service.pages.care_note_room import size_of
from service.pages.care_note_text import written
from service.schemas.animal import PinnedQuerySchema
from service.schemas.care_note import CareNoteBodySchema
from service.schemas.care_note_answer import CareNoteAnswerSchema
from service.web import body
from service.web.animals import read_animal
from service.web.checksum import checksum
from service.web.envelope import Envelope
from service.web.negotiation import choose
from service.web.products import read_products
from service.web.query import QueryReader
from service.web.responses import Caching, respond
from service.web.serving import envelope

blueprint = Blueprint("care_note", __name__)
BODY = CareNoteBodySchema()
_query = QueryReader(PinnedQuerySchema)
_OFFERS = ("json", "html", "text")
_FORM_OF = {"txt": "text"}


@blueprint.post("/v1/care-note")
@blueprint.post("/v1/care-note.<any(json, html, txt):ending>")
def write_care_note(ending: str | None = None) -> Response:
    """Answer with the record for a veterinary practice."""
    form = choose(_OFFERS, _FORM_OF.get(ending, ending) if ending else None)
    release = envelope(_query.read()["dataset"])
    return answered(release, note_of(release, body.read(BODY)), form, negotiated=ending is None)


def note_of(release: Envelope, values: Mapping[str, Any]) -> CareNote:
    """Write the note from a validated body.

    Parameters
    ----------
    release
        The release to answer from.
    values
        What the body schema loaded.

    Returns
    -------
    CareNote
        With the checksum of what was told.
    """
    return care_note(release.reference, request_of_body(values))


def answered(release: Envelope, note: CareNote, form: str, *, negotiated: bool) -> Response:
    """Answer with a note as ``json``, ``html`` or ``text``."""
    if form == "json":
        return respond(release.json(note, CareNoteAnswerSchema), form, Caching.NEVER, negotiated=negotiated)
    sheet = sheet_of(note, release.reference.stamp, release.reference.sources)
    text = written(sheet) if form == "text" else render_template("care_note.html", sheet=sheet, size=size_of(sheet))
    return respond(text.encode(), form, Caching.NEVER, negotiated=negotiated)


def request_of_body(values: Mapping[str, Any]) -> CareRequest:
    """Build the question from a validated body.

    Parameters
    ----------
    values
        What the body schema loaded.

    Returns
    -------
    CareRequest
        With the checksum of what was told.

    Raises
    ------
    InvalidInput
        If weights or prices are told wrongly, or two products have one id.
    """
    animal = values["animal"]
    products = read_products(values["products"], "products", "p")
    return CareRequest(
        animal=read_animal(animal, "animal/", weight_needed=False),
        products=tuple(
            ProductTold(
                product=product,
                from_date=told.get("from_date"),
                until_date=told.get("until_date"),
                phases=tuple(PhaseTold(**phase) for phase in told.get("phases", ())),
            )
            for product, told in zip(products, values["products"], strict=True)
        ),
        inputs_sha256=checksum(BODY, values),
        name=animal.get("name"),
        identification=animal.get("identification"),
        traits=tuple(animal["traits"]),
        medications=tuple(values["medications"]),
        other_supplements=read_products(values["other_supplements"], "other_supplements", "s"),
        conditions=tuple(values["conditions"]),
        start_date=values.get("start_date"),
        note_date=values.get("note_date"),
        questions=tuple(values["questions"]),
        observations=tuple(values["observations"]),
    )
