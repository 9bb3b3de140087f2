"""``/care-note``: the care note for people without a program, from a form that works without script."""

from __future__ import annotations

import json
from collections.abc import Iterable

from flask import Blueprint, Response, render_template, request

from service.demo import care_note_body
from service.domain.errors import DomainError, InvalidInput
from service.web import body
from service.web.care_note import BODY, answered, note_of
from service.web.faults import Fault
from service.web.json_document import faults_of, parse
from service.web.negotiation import choose
from service.web.responses import Caching, respond
from service.web.serving import envelope
from service.web.site.reading import printable

blueprint = Blueprint("site_care_note", __name__)
# A form writes most characters of JSON as three.
_LARGEST_FORM_BYTES = 3 * body.LARGEST_BODY_BYTES
_FORMS = ("html", "text")


@blueprint.get("/care-note")
def ask_for_note() -> Response:
    """Answer with the form, an invented note filled in."""
    choose(("html",))
    return _form(json.dumps(care_note_body(), indent=1, ensure_ascii=False), (), Caching.REVALIDATE)


@blueprint.post("/care-note")
def show_note() -> Response:
    """Answer with the note of the form as a page, or as text where that is asked; else with the form again."""
    written, form = _filled_in()
    release = envelope()
    try:
        note = note_of(release, _values(written))
    except (Fault, DomainError) as error:
        return _form(written, _messages(error), Caching.NEVER)
    return answered(release, note, form, negotiated=False)


def _filled_in() -> tuple[str, str]:
    """Give the text of the field ``note`` and what it is wanted as."""
    if request.mimetype != "application/x-www-form-urlencoded":
        raise Fault("unsupported-media-type", "This form is sent as application/x-www-form-urlencoded.")
    request.max_content_length = _LARGEST_FORM_BYTES
    form = request.form.get("form", "html")
    return request.form.get("note", ""), form if form in _FORMS else "html"


def _values(written: str) -> dict[str, object]:
    # Lone halves of surrogate pairs cannot come out of a form; UTF-8 that is none has been replaced by then.
    document = parse(written.encode())
    body.raise_first(faults_of(document))
    values: dict[str, object] = body.load(BODY, document)
    return values


def _messages(error: Fault | DomainError) -> tuple[tuple[str, str], ...]:
    """Give what to change: the place in the text, empty where it is all of it, and the sentence."""
    if isinstance(error, InvalidInput):
        return tuple((issue.where, issue.detail) for issue in error.issues)
    if isinstance(error, Fault) and error.errors:
        return tuple((_place(one), one["detail"]) for one in error.errors)
    return (("", str(error).replace("The body is", "This is")),)


def _place(error: dict[str, str]) -> str:
    return error.get("pointer", "").removeprefix("#").removeprefix("/")


def _form(written: str, messages: Iterable[tuple[str, str]], caching: Caching) -> Response:
    text = render_template("care_note_form.html", written=printable(written), messages=tuple(messages))
    return respond(text.encode(), "html", caching)
