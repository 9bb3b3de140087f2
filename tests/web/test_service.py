"""Index, health, readiness, HEAD and OPTIONS, headers, caching."""

from __future__ import annotations

import re

import pytest
from flask.testing import FlaskClient

from service.schemas.charts import EXAMPLE_STATE
from service.version import VERSION
from service.web.catalogue import OPERATIONS
from tests.web.asserting import assert_problem
from tests.web.invented import DOSE
from tests.web.test_error_shape import concrete

_QUERIES = {
    "/v1/dose": DOSE,
    "/v1/resolve": {"name": "MSM"},
    "/v1/convert": {"form": "msm", "amount": "1 g"},
    "/v1/screen": {"species": "dog", "ingredients_text": "cellulose"},
    "/charts/amount": {"species": "dog", "ingredient": "msm"},
    "/charts/comparison": {"state": EXAMPLE_STATE},
    "/charts/composition": {"state": EXAMPLE_STATE},
    "/charts/course": {"state": EXAMPLE_STATE},
    "/v1/exposure": {"species": "dog", "weight": "10 kg", "substance": "xylitol", "amount": "1 g"},
}
TABULAR = ("compare", "dose", "ingredients")
GET_PATHS = sorted({operation.path for operation in OPERATIONS if operation.method == "get"})


def query_for(path: str) -> dict[str, str]:
    """Give a query that the endpoint accepts."""
    return _QUERIES.get(path.removesuffix(".csv").removesuffix(".html").removesuffix(".svg"), {})


def test_index_links_to_what_exists(client: FlaskClient) -> None:
    members = client.get("/v1").get_json()
    assert members["api_version"] == VERSION
    assert members["dataset_version"] == members["dataset"]["version"]
    for link in members["links"]:
        allowed = client.options(concrete(link["href"])).headers["Allow"]
        assert link["method"] in allowed
        assert link["templated"] == ("{" in link["href"])


def test_index_links_to_everything(client: FlaskClient) -> None:
    hrefs = {link["href"] for link in client.get("/v1").get_json()["links"]}
    described = {operation.path for operation in OPERATIONS if operation.path != "/v1"}
    # A second address of what the Accept header gives as well is no address of its own.
    second = {operation.path for operation in OPERATIONS if not operation.linked and operation.path != "/v1"}
    assert described - hrefs == second
    assert {f"/v1/{name}.{form}" for name in TABULAR for form in ("csv", "html")} <= second
    assert {path.rpartition(".")[0] for path in second if path.startswith("/v1/")} <= described
    assert {
        "/healthz",
        "/readyz",
        "/openapi.json",
        "/problems/{slug}",
        "/v1/dataset",
        "/v1/dataset/{version}/datapackage.json",
        "/v1/dataset/{version}/{table}.csv",
        "/v1/dataset/{version}/{table}.json",
        "/v1/dataset/{version}/archive.zip",
    } <= hrefs


def test_health_and_readiness(client: FlaskClient) -> None:
    assert client.get("/healthz").get_json() == {"status": "ok"}
    ready = client.get("/readyz").get_json()
    assert ready["status"] == "ready"
    assert re.fullmatch(r"[0-9]+\.[0-9]+\.[0-9]+", ready["dataset"]["version"])


@pytest.mark.parametrize("path", GET_PATHS)
def test_head_is_get_without_its_body(client: FlaskClient, path: str) -> None:
    got = client.get(concrete(path), query_string=query_for(path))
    head = client.head(concrete(path), query_string=query_for(path))
    assert got.status_code == head.status_code == 200
    assert dict(got.headers) == dict(head.headers)
    assert head.data == b""
    assert int(head.headers["Content-Length"]) == len(got.data)


@pytest.mark.parametrize("path", GET_PATHS)
def test_options(client: FlaskClient, path: str) -> None:
    response = client.options(concrete(path))
    assert response.status_code == 204
    assert response.data == b""
    assert "Content-Type" not in response.headers
    assert {"GET", "HEAD", "OPTIONS"} <= set(response.headers["Allow"].split(", "))


def test_options_of_nothing(client: FlaskClient) -> None:
    assert_problem(client.options("/v1/nothing"), "not-found")
    assert set(client.options("/v1/normalise").headers["Allow"].split(", ")) == {"OPTIONS", "POST"}


@pytest.mark.parametrize("path", [*GET_PATHS, "/static/pages.css", "/nothing"])
def test_security_headers_stand_once_on_every_answer(client: FlaskClient, path: str) -> None:
    headers = client.get(concrete(path), query_string=query_for(path), buffered=True).headers
    assert headers.getlist("X-Content-Type-Options") == ["nosniff"]
    assert headers.getlist("Referrer-Policy") == ["no-referrer"]
    assert headers["Content-Security-Policy"].startswith("default-src 'none'")
    assert "unsafe" not in headers["Content-Security-Policy"]


def test_pages_need_nothing_but_their_own_style(client: FlaskClient) -> None:
    for path in ("/v1/dose.html", "/v1/ingredients.html", "/problems", "/problems/internal"):
        page = client.get(path, query_string=query_for(path)).get_data(as_text=True)
        assert "<script" not in page
        assert " style=" not in page
        linked = re.findall(r'<link[^>]*href="([^"]*)"', page)
        assert linked
        assert all(address.startswith("/static/") for address in linked)
    assert client.get("/static/pages.css", buffered=True).content_type.startswith("text/css")


def test_unpinned_answers_are_checked_again(client: FlaskClient) -> None:
    response = client.get("/v1/resolve?name=MSM")
    assert response.headers["Cache-Control"] == "public, no-cache"
    unchanged = client.get("/v1/resolve?name=MSM", headers={"If-None-Match": response.headers["ETag"]})
    assert unchanged.status_code == 304
    assert unchanged.headers["ETag"] == response.headers["ETag"]
    changed = client.get("/v1/resolve?name=xylitol", headers={"If-None-Match": response.headers["ETag"]})
    assert changed.status_code == 200


def test_pinned_answers_may_be_kept(client: FlaskClient) -> None:
    version = client.get("/v1").get_json()["dataset_version"]
    response = client.get("/v1/dose", query_string={**DOSE, "dataset": version})
    assert "immutable" in response.headers["Cache-Control"]
    assert "ETag" in response.headers


def test_negotiated_answers_say_so(client: FlaskClient) -> None:
    assert client.get("/v1/ingredients").headers["Vary"] == "Accept"
    assert "Vary" not in client.get("/v1/resolve?name=MSM").headers
