"""What every answer of a kind must have; used over all routes."""

from __future__ import annotations

from typing import Any

from werkzeug.test import TestResponse

from service.schemas.problem import ProblemSchema
from service.web.problems import KINDS

_problem = ProblemSchema()


def assert_problem(
    response: TestResponse, slug: str, *, names: str | None = None, hint: str | None = None
) -> dict[str, Any]:
    """Assert that an answer is the problem of this kind, and give its members.

    ``names`` is the parameter or pointer that one of the errors must name, ``hint`` a part of that error's sentence,
    or of the detail where no name is given.
    """
    kind = KINDS[slug]
    assert response.status_code == kind.status, response.get_data(as_text=True)[:500]
    assert response.content_type == "application/problem+json"
    assert response.headers["X-Content-Type-Options"] == "nosniff"
    assert response.headers["Cache-Control"] == "no-store"
    if response.request.method == "HEAD":
        return {}
    members: dict[str, Any] = response.get_json()
    assert _problem.validate(members) == {}
    assert members["type"] == f"http://localhost/problems/{slug}"
    assert members["title"] == kind.title
    assert members["status"] == kind.status
    assert members["instance"].isascii()
    assert members["detail"]
    if slug == "invalid-input":
        assert members["errors"], members
        assert all(("parameter" in error) != ("pointer" in error) for error in members["errors"])
    if names is not None:
        named = {error.get("parameter") or error.get("pointer"): error["detail"] for error in members["errors"]}
        assert names in named, named
        assert hint is None or hint in named[names], named[names]
    elif hint is not None:
        assert hint in members["detail"]
    return members


def assert_computed(response: TestResponse) -> dict[str, Any]:
    """Assert that an answer is a computed one with everything that goes beside a result, and give its members."""
    assert response.status_code == 200, response.get_data(as_text=True)[:500]
    assert response.content_type == "application/json"
    members: dict[str, Any] = response.get_json()
    assert set(members["dataset"]) == {"version", "sha256", "released"}
    assert "not a prescription" in members["notice"]
    assert isinstance(members["sources"], list)
    assert isinstance(members["cautions"], list)
    assert "source_ids" not in members
    return members
