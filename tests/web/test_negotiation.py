"""Which representation a caller gets."""

from __future__ import annotations

import pytest
from flask import Flask

from service.web.faults import Fault
from service.web.negotiation import TABULAR, choose


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


def test_ending_decides(app: Flask) -> None:
    with app.test_request_context(headers={"Accept": "image/png"}):
        assert choose(TABULAR, "csv") == "csv"


def test_very_long_header_is_cut(app: Flask) -> None:
    with app.test_request_context(headers={"Accept": "text/csv," + "a/b," * 5000}):
        assert choose(TABULAR) == "csv"
