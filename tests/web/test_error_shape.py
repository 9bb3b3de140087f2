"""One assertion over the errors of all routes: RFC 9457 everywhere, unknown paths included."""

from __future__ import annotations

import logging

import pytest
from flask import Flask
from flask.testing import FlaskClient

from service import create_app
from service.reference import releases as dataset_releases
from service.reference.releases import DefectiveRelease, Releases
from service.web.catalogue import OPERATIONS
from service.web.problems import KINDS
from tests.web.asserting import assert_problem
from tests.web.invented import DOSE

_IDS = {"{id}": "glucosamine", "{version}": "1.0.0", "{table}": "limits", "{slug}": "internal"}
PATHS = sorted({operation.path for operation in OPERATIONS})
# Where the ending of a path decides, or where a page is for everyone, no header is refused.
_DECIDED = (".csv", ".html", ".ics", ".svg", ".txt", ".zip", "datapackage.json", "{table}.json")
NEGOTIATED_PATHS = [path for path in PATHS if not path.endswith(_DECIDED)]


def concrete(path: str, form: str = "glucosamine-hydrochloride") -> str:
    """Fill the ids of a path in."""
    if path.startswith("/v1/forms"):
        path = path.replace("{id}", form)
    for placeholder, value in _IDS.items():
        path = path.replace(placeholder, value)
    return path


@pytest.mark.parametrize(
    "path", ["/none", "/v1/", "/v1/nothing", "/v1//dose", "/v1/dose/", "/v1/d%C3%A9%00%FF", "/static/none.css"]
)
def test_unknown_path_is_not_found(client: FlaskClient, path: str) -> None:
    assert_problem(client.get(path), "not-found")


@pytest.mark.parametrize("path", PATHS)
@pytest.mark.parametrize("method", ["DELETE", "PUT", "PATCH", "TRACE", "BREW"])
def test_wrong_method_keeps_allow(client: FlaskClient, path: str, method: str) -> None:
    response = client.open(concrete(path), method=method)
    assert_problem(response, "method-not-allowed")
    allowed = set(response.headers["Allow"].split(", "))
    documented = {operation.method.upper() for operation in OPERATIONS if operation.path == path}
    assert documented | {"OPTIONS"} <= allowed
    assert ("HEAD" in allowed) == ("GET" in documented)


@pytest.mark.parametrize("path", PATHS)
def test_unknown_query_name_is_named(client: FlaskClient, path: str) -> None:
    for operation in (one for one in OPERATIONS if one.path == path):
        response = client.open(concrete(path), method=operation.method, query_string={"datset": "1.0.0"}, json={})
        assert_problem(response, "invalid-input", names="datset", hint="not a parameter")


@pytest.mark.parametrize("path", PATHS)
def test_long_query_is_refused(client: FlaskClient, path: str) -> None:
    for operation in (one for one in OPERATIONS if one.path == path):
        response = client.open(f"{concrete(path)}?x={'y' * 8000}", method=operation.method, json={})
        assert_problem(response, "uri-too-long")


@pytest.mark.parametrize("path", NEGOTIATED_PATHS)
def test_no_acceptable_answer(client: FlaskClient, path: str) -> None:
    for operation in (one for one in OPERATIONS if one.path == path):
        response = client.open(concrete(path), method=operation.method, headers={"Accept": "image/png"}, json={})
        assert_problem(response, "not-acceptable")


def test_error_stays_a_problem_for_a_caller_who_wants_csv(client: FlaskClient) -> None:
    assert_problem(client.get("/v1/dose.csv?species=dog"), "invalid-input", names="ingredient")
    assert_problem(client.get("/v1/dose", headers={"Accept": "text/csv"}), "invalid-input")


def test_problem_type_follows_the_host_header(client: FlaskClient) -> None:
    members = client.get("/nothing", base_url="https://doses.example:8443/").get_json()
    assert members["type"] == "https://doses.example:8443/problems/not-found"


def test_problem_type_stays_absolute_without_a_usable_host(client: FlaskClient) -> None:
    assert client.get("/nothing", headers={"Host": "no host"}).get_json()["type"].startswith("http://localhost/")


def test_problem_type_uses_the_configured_address(releases: Releases) -> None:
    app = create_app(releases)
    app.config["PUBLIC_URL"] = "https://doses.example/base"
    members = app.test_client().get("/nothing").get_json()
    assert members["type"] == "https://doses.example/base/problems/not-found"


@pytest.mark.parametrize("slug", list(KINDS))
def test_every_problem_type_has_a_page(client: FlaskClient, slug: str) -> None:
    page = client.get(f"/problems/{slug}", headers={"Accept": "text/html,*/*;q=0.1"})
    assert page.status_code == 200
    assert page.content_type == "text/html; charset=utf-8"
    assert KINDS[slug].title in page.get_data(as_text=True)
    members = client.get(f"/problems/{slug}", headers={"Accept": "application/json"}).get_json()
    assert members["status"] == KINDS[slug].status
    assert members["type"] == f"http://localhost/problems/{slug}"


def test_unknown_problem_lists_the_nearest(client: FlaskClient) -> None:
    members = assert_problem(client.get("/problems/invalid-inputs"), "not-found")
    assert "invalid-input" in members["nearest"]


def test_list_of_problems(client: FlaskClient) -> None:
    members = client.get("/problems", headers={"Accept": "application/json"}).get_json()
    assert [one["slug"] for one in members["problems"]] == list(KINDS)
    assert "<dl>" in client.get("/problems").get_data(as_text=True)


def test_failure_of_our_own_shows_no_internals(
    releases: Releases, monkeypatch: pytest.MonkeyPatch, caplog: pytest.LogCaptureFixture
) -> None:
    def fail(*_: object) -> None:
        raise RuntimeError("a secret of the inside")

    monkeypatch.setattr("service.web.dose.dose", fail)
    with caplog.at_level(logging.ERROR):
        response = create_app(releases).test_client().get("/v1/dose", query_string=DOSE)
    assert_problem(response, "internal")
    assert "secret" not in response.get_data(as_text=True)
    assert "a secret of the inside" in caplog.text


def _unready(monkeypatch: pytest.MonkeyPatch) -> Flask:
    def refuse() -> None:
        raise DefectiveRelease("release 1.0.0: a byte has changed")

    monkeypatch.setattr(dataset_releases, "load_all", refuse)
    return create_app()


def test_without_a_verified_release_nothing_is_answered(
    monkeypatch: pytest.MonkeyPatch, caplog: pytest.LogCaptureFixture
) -> None:
    client = _unready(monkeypatch).test_client()
    assert "a byte has changed" in caplog.text
    for path in ("/readyz", "/v1", "/v1/dose?species=dog&weight=34kg&ingredient=glucosamine", "/v1/dataset"):
        response = client.get(path)
        assert_problem(response, "not-ready")
        assert response.headers["Retry-After"].isdigit()
    assert client.get("/healthz").get_json() == {"status": "ok"}
    assert client.get("/openapi.json").status_code == 200


def test_head_of_a_problem_has_no_body(client: FlaskClient) -> None:
    response = client.head("/v1/nothing")
    assert_problem(response, "not-found")
    assert response.data == b""
