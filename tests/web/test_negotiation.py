"""Which representation a caller gets."""

from __future__ import annotations

import pytest
from flask import Flask
from flask.testing import FlaskClient

from service.web.faults import Fault
from service.web.negotiation import TABULAR, choose
from tests.web.asserting import assert_computed, assert_problem
from tests.web.invented import DOSE


@pytest.mark.parametrize(
    ("header", "chosen"),
    [
        (None, "json"),
        ("", "json"),
        ("*/*", "json"),
        ("application/json", "json"),
        ("APPLICATION/JSON", "json"),
        ("text/csv", "csv"),
        ("text/*", "csv"),
        ("text/*;q=0.5, text/html", "html"),
        ("text/csv;q=0.4, text/html;q=0.5", "html"),
        ("text/html,application/xhtml+xml,application/xml;q=0.9,*/*;q=0.8", "html"),
        ("application/json;q=0, */*", "csv"),
        ("text/csv;q=0, text/*;q=0.3", "html"),
        ("application/json;q=0.2, text/csv;q=0.2", "json"),
        ("application/json;version=2", "json"),
        ('application/json; charset="utf-8"; q=0.4, text/csv; header=present; q=0.5', "csv"),
        ("text/html;level=1", "html"),
    ],
)
def test_accept_header(app: Flask, header: str | None, chosen: str) -> None:
    with app.test_request_context(headers={} if header is None else {"Accept": header}):
        assert choose(TABULAR) == chosen


@pytest.mark.parametrize(
    "header", ["image/png", "application/json;q=0", "text/plain, application/xml", "nonsense", "*/*;q=0"]
)
def test_nothing_acceptable(app: Flask, header: str) -> None:
    with app.test_request_context(headers={"Accept": header}), pytest.raises(Fault) as caught:
        choose(TABULAR)
    assert caught.value.slug == "not-acceptable"


def test_a_refusal_depends_on_the_header(client: FlaskClient) -> None:
    response = client.get("/v1/dose", query_string=DOSE, headers={"Accept": "image/png"})
    assert_problem(response, "not-acceptable")
    assert response.headers["Vary"] == "Accept"


def test_a_parameter_of_the_media_type_is_let_go(client: FlaskClient) -> None:
    headers = {"Accept": "application/json;version=2"}
    assert_computed(client.get("/v1/dose", query_string=DOSE, headers=headers))
    assert_computed(client.get("/v1/convert?form=msm&amount_mg=5", headers=headers))


def test_ending_decides(app: Flask) -> None:
    with app.test_request_context(headers={"Accept": "image/png"}):
        assert choose(TABULAR, "csv") == "csv"


def test_very_long_header_is_cut(app: Flask) -> None:
    with app.test_request_context(headers={"Accept": "text/csv," + "a/b," * 5000}):
        assert choose(TABULAR) == "csv"
