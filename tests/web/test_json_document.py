"""One JSON document with one meaning only."""

from __future__ import annotations

from decimal import Decimal

import pytest

from service.web.faults import Fault
from service.web.json_document import faults_of, parse


def test_every_number_is_a_decimal_with_its_digits() -> None:
    assert parse(b'{"a": 0.10, "b": [1, null, true]}') == {"a": Decimal("0.10"), "b": [Decimal(1), None, True]}


@pytest.mark.parametrize(
    ("data", "detail"),
    [(b"\xff", "byte 0 cannot be read"), (b"{", "line 1, column 2"), (b"[NaN]", "NaN is not a JSON number")],
)
def test_what_is_no_document(data: bytes, detail: str) -> None:
    with pytest.raises(Fault, match=detail) as caught:
        parse(data)
    assert caught.value.slug == "malformed-body"


@pytest.mark.parametrize(
    ("data", "pointer", "detail"),
    [
        (b'{"a": 1, "a": 2}', "#/a", "more than once"),
        (b'{"a": [1, "x\\u0000"]}', "#/a/1", "must not contain"),
        (b'{"a/b": 1e999999999999999999999}', "#/a~1b", "more than 40 characters"),
    ],
)
def test_faults_that_no_schema_could_see(data: bytes, pointer: str, detail: str) -> None:
    (fault,) = faults_of(parse(data))
    assert fault["pointer"] == pointer
    assert detail in fault["detail"]


def test_depth_is_bounded() -> None:
    assert list(faults_of(parse(b"[" * 32 + b"]" * 32))) == []
    with pytest.raises(Fault, match="nested more than 32 levels"):
        list(faults_of(parse(b"[" * 40 + b"]" * 40)))
