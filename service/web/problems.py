"""RFC 9457 problem answers: one table of kinds, one mapping from errors to kinds."""

from __future__ import annotations

import json
from collections.abc import Callable
from dataclasses import dataclass
from urllib.parse import quote

from flask import Flask, Response, current_app, request
from werkzeug.exceptions import HTTPException, MethodNotAllowed
from werkzeug.routing import RequestRedirect

from service.domain import errors
from service.web.faults import Fault, invalid_input

MEDIA_TYPE = "application/problem+json"
_RETRY_AFTER_SECONDS = "5"


@dataclass(frozen=True, slots=True)
class Kind:
    """One kind of problem: what it means and what a caller can do."""

    slug: str
    status: int
    title: str
    meaning: str
    remedy: str


_ALL_KINDS = (
    Kind(
        "invalid-input",
        422,
        "The input cannot be accepted",
        "The request could be read, but a value is missing, unknown, given twice, or outside what is accepted. "
        "Nothing was guessed, rounded or clamped.",
        "Look at `errors`: each entry names a query parameter, or points into the body, and says what to change.",
    ),
    Kind(
        "malformed-body",
        400,
        "The request cannot be read",
        "The body is not one JSON document in UTF-8, or the request itself is broken.",
        "Send one JSON object, encoded in UTF-8. NaN, Infinity and comments are not JSON.",
    ),
    Kind(
        "unsupported-media-type",
        415,
        "The body has the wrong media type",
        "This address reads JSON only, or, below /v1/batch/, CSV and NDJSON in UTF-8.",
        "Send the header `Content-Type: application/json` and an uncompressed JSON body; a batch as `text/csv` or "
        "`application/x-ndjson`, uncompressed or as gzip.",
    ),
    Kind(
        "not-acceptable",
        406,
        "No answer in the requested media type",
        "The `Accept` header admits none of the media types that this address can answer with.",
        "Widen the `Accept` header, or use an address that ends in .json, .csv or .html where there is one.",
    ),
    Kind(
        "body-too-large",
        413,
        "The body is too large",
        "A request body may have at most 65,536 bytes, a batch at most 33,554,432 bytes and 100,000 rows.",
        "Split the request, for example into several comparisons with fewer products, or send many as one batch.",
    ),
    Kind(
        "uri-too-long",
        414,
        "The query is too long",
        "A query string may have at most 8,000 bytes.",
        "Use the `POST` form of the endpoint, which takes a body.",
    ),
    Kind(
        "not-found",
        404,
        "There is nothing at this address",
        "The path, or the id in it, is not known.",
        "`GET /v1` lists every address. Ids that look alike are listed in `nearest`.",
    ),
    Kind(
        "unknown-ingredient",
        404,
        "The ingredient is not known",
        "No ingredient of this dataset release has that id. That says nothing about the substance itself: "
        "what the dataset does not know is not thereby harmless.",
        "`nearest` lists ids that look alike; `GET /v1/resolve?name=` finds the id behind a name on a label.",
    ),
    Kind(
        "unknown-dataset-release",
        404,
        "The dataset release is not known",
        "There is no dataset release of that version.",
        "`GET /v1/dataset` lists all releases.",
    ),
    Kind(
        "no-guidance",
        404,
        "No amount is known for this animal",
        "The ingredient is known, but the dataset holds no amount for this species or age. "
        "No amount was derived from another species.",
        "`known` says what the dataset does hold. Ask a veterinarian.",
    ),
    Kind(
        "method-not-allowed",
        405,
        "The method is not allowed here",
        "This address exists, but not for this HTTP method.",
        "Use a method listed in the `Allow` header.",
    ),
    Kind(
        "rate-limited",
        429,
        "Too many requests",
        "More requests arrived than this service answers for one caller.",
        "Wait for the seconds given in the `Retry-After` header.",
    ),
    Kind(
        "internal",
        500,
        "Something failed on our side",
        "The request ran into an error of the service. It has been recorded.",
        "Try again later; if it stays, report the address and the time.",
    ),
    Kind(
        "not-ready",
        503,
        "The service is not ready",
        "No verified dataset release is loaded, so nothing can be answered.",
        "Wait for the seconds given in the `Retry-After` header; `GET /readyz` says when it is ready.",
    ),
)
KINDS = {kind.slug: kind for kind in _ALL_KINDS}

_SLUG_OF_STATUS = {
    400: "malformed-body",
    404: "not-found",
    405: "method-not-allowed",
    406: "not-acceptable",
    413: "body-too-large",
    414: "uri-too-long",
    415: "unsupported-media-type",
    422: "invalid-input",
    429: "rate-limited",
    503: "not-ready",
}


def _invalid_input(error: errors.InvalidInput) -> Fault:
    if request.method == "POST":
        return invalid_input([{"pointer": f"#/{issue.where}", "detail": issue.detail} for issue in error.issues])
    return invalid_input([{"parameter": issue.where, "detail": issue.detail} for issue in error.issues])


def _unknown_ingredient(error: errors.UnknownIngredient) -> Fault:
    return Fault("unknown-ingredient", str(error), members={"nearest": list(error.nearest)})


def _unknown_form(error: errors.UnknownForm) -> Fault:
    return Fault("not-found", str(error), members={"nearest": list(error.nearest)})


def _unknown_release(error: errors.UnknownRelease) -> Fault:
    return Fault("unknown-dataset-release", str(error), members={"known_releases": list(error.known)})


def _no_guidance(error: errors.NoGuidance) -> Fault:
    known = error.known
    summary = {
        "ingredient": known.ingredient,
        "species": known.species,
        "evidence": {"verdict": known.evidence_verdict, "summary": known.evidence_summary},
        "regimen_ids": list(known.regimen_ids),
        "hazard_ids": list(known.hazard_ids),
        "limit_ids": list(known.limit_ids),
        "source_ids": list(known.source_ids),
    }
    return Fault("no-guidance", str(error), members={"known": summary})


_FAULT_OF: dict[type[errors.DomainError], Callable[..., Fault]] = {
    errors.InvalidInput: _invalid_input,
    errors.UnknownIngredient: _unknown_ingredient,
    errors.UnknownSubstance: _unknown_ingredient,
    errors.UnknownForm: _unknown_form,
    errors.UnknownRelease: _unknown_release,
    errors.NoGuidance: _no_guidance,
}


def root_url() -> str:
    """Give the absolute address of the service, ending in a slash, as the caller reached it or as configured."""
    configured = current_app.config["PUBLIC_URL"]
    if configured:
        return str(configured).rstrip("/") + "/"
    # Without a usable Host header werkzeug's root has no host; a problem type must be absolute all the same.
    return request.root_url if request.host else f"{request.scheme}://localhost/"


def problem(fault: Fault) -> Response:
    """Turn a fault into its answer."""
    kind = KINDS[fault.slug]
    body: dict[str, object] = {
        "type": f"{root_url()}problems/{kind.slug}",
        "title": kind.title,
        "status": kind.status,
        "detail": fault.detail,
        "instance": quote(request.path, safe="/!$&'()*+,;=:@~-._"),
    }
    if fault.errors:
        body["errors"] = fault.errors
    response = Response(json.dumps({**body, **fault.members}), status=kind.status, content_type=MEDIA_TYPE)
    response.headers["Cache-Control"] = "no-store"
    if kind.status in (429, 503):
        response.headers["Retry-After"] = _RETRY_AFTER_SECONDS
    if kind.status == 406:
        response.headers["Vary"] = "Accept"
    return response


def _answer_domain_error(error: errors.DomainError) -> Response:
    return problem(_FAULT_OF[type(error)](error))


def _answer_http_error(error: HTTPException) -> Response | HTTPException:
    """Answer what Flask and werkzeug raise, an unexpected failure (already logged by Flask) included."""
    if isinstance(error, RequestRedirect) or error.code is None:
        return error
    slug = _SLUG_OF_STATUS.get(error.code, "malformed-body" if error.code < 500 else "internal")
    kind = KINDS[slug]
    response = problem(Fault(slug, f"{kind.meaning} {kind.remedy}".replace("`", "")))
    if isinstance(error, MethodNotAllowed) and error.valid_methods:
        response.headers["Allow"] = ", ".join(sorted(error.valid_methods))
    return response


def register(app: Flask) -> None:
    """Make every error of the application a problem answer."""
    app.register_error_handler(Fault, problem)
    app.register_error_handler(errors.DomainError, _answer_domain_error)
    app.register_error_handler(HTTPException, _answer_http_error)
