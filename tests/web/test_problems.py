"""One kind of problem for every error, in the shape of RFC 9457."""

from __future__ import annotations

import pytest
from flask import Flask

from service.domain import errors
from service.web.faults import Fault
from service.web.problems import KINDS, MEDIA_TYPE, problem

KNOWN = errors.KnownInstead("msm", "cat", "untested", None, (), (), (), ())


@pytest.mark.parametrize(("slug", "kind"), KINDS.items(), ids=list(KINDS))
def test_every_kind_becomes_an_answer(app: Flask, slug: str, kind: object) -> None:
    with app.test_request_context("/v1/dose"):
        response = problem(Fault(slug, "Because."))
    body = response.get_json(force=True)
    assert kind == KINDS[slug]
    assert response.content_type == MEDIA_TYPE
    assert response.headers["Cache-Control"] == "no-store"
    assert (body["status"], body["detail"], body["instance"]) == (response.status_code, "Because.", "/v1/dose")
    assert body["type"].endswith(f"/problems/{slug}")
    assert ("Retry-After" in response.headers) is (response.status_code in (429, 503))


@pytest.mark.parametrize(
    ("error", "slug", "member"),
    [
        (errors.UnknownIngredient("x", ("y",)), "unknown-ingredient", {"nearest": ["y"]}),
        (errors.UnknownForm("x", ()), "not-found", {"nearest": []}),
        (errors.UnknownRelease("9", ("1.0.0",)), "unknown-dataset-release", {"known_releases": ["1.0.0"]}),
        (errors.InvalidInput(errors.Issue("to", "is odd")), "invalid-input", {"detail": "to: is odd"}),
        (errors.NoGuidance("None.", KNOWN), "no-guidance", {"detail": "None."}),
    ],
)
def test_errors_of_the_domain(app: Flask, error: errors.DomainError, slug: str, member: dict[str, object]) -> None:
    with app.test_request_context("/v1/convert"):
        body = app.make_response(app.handle_user_exception(error)).get_json(force=True)
    assert body["type"].endswith(f"/problems/{slug}")
    assert member.items() <= body.items()


def test_a_fault_of_a_body_is_pointed_at(app: Flask) -> None:
    with app.test_request_context("/v1/compare", method="POST"):
        error = errors.InvalidInput(errors.Issue("animal/weight", "is needed"))
        body = app.make_response(app.handle_user_exception(error)).get_json(force=True)
    assert body["errors"] == [{"pointer": "#/animal/weight", "detail": "is needed"}]
