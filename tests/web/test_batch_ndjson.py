"""NDJSON: the caller's text unchanged, the answer behind it; a line that cannot be read stops no other."""

from __future__ import annotations

import json

import pytest
from flask.testing import FlaskClient

from service.schemas.batch_limits import LONGEST_ROW_BYTES
from tests.web.asserting import assert_problem
from tests.web.batch_rows import NDJSON, ndjson, objects, send
from tests.web.invented import DOSE


def test_the_callers_text_comes_back_to_the_byte(client: FlaskClient) -> None:
    own = b'{ "price":1.10, "big":12345678901234567890, "n":"\\u00e4\\/", "species":"dog" ,\r"weight":"34 kg",'
    line = own + b'"ingredient":"glucosamine" }'
    response = send(client, "dose", line + b"\r\n", NDJSON)
    assert response.data.startswith(line.removesuffix(b" }").replace(b"\r", b" ") + b',"status":"ok","result":{')


@pytest.mark.parametrize(
    ("line", "problem", "hint"),
    [
        (b"{", "malformed-body", "not JSON"),
        (b"[]", "invalid-input", "must be one JSON object"),
        (b'"text"', "invalid-input", "must be one JSON object"),
        (b'{"a": NaN}', "malformed-body", "NaN is not"),
        (b'{"a": "\xff"}', "malformed-body", "not UTF-8"),
        (b'{"species": "dog", "species": "cat"}', "invalid-input", "more than once"),
        (b'{"a": ' + b"[" * 5000 + b"]" * 5000 + b"}", "invalid-input", "levels deep"),
        (b'{"a": "\\ud800"}', "invalid-input", "U+D800"),
        (b'{"status": "mine"}', "invalid-input", "rename it"),
        (b'{"result": 1, "species": "dog"}', "invalid-input", "rename it"),
    ],
)
def test_a_line_that_cannot_be_read_comes_back_as_text(
    client: FlaskClient, line: bytes, problem: str, hint: str
) -> None:
    body = ndjson(DOSE) + line + b"\n" + ndjson(DOSE)
    first, refused, last = objects(send(client, "dose", body, NDJSON))
    assert (first["status"], last["status"]) == ("ok", "ok")
    assert (refused["status"], refused["problem"]) == ("refused", problem)
    assert hint in refused["error"]
    assert refused["input"] == line.decode("utf-8", "replace")


@pytest.mark.parametrize(
    ("changes", "pointer", "hint"),
    [
        ({"weight": 34}, "#/weight", "must be a text"),
        ({"body_condition_score": "7"}, "#/body_condition_score", "JSON number"),
        ({"species": "horse"}, "#/species", "dog, cat"),
        ({"dataset": "1.0.0"}, "#/dataset", "query parameter dataset"),
        ({"traits": "sighthound"}, "#/traits", "looks like trait"),
        ({"form": "msm"}, "#/form", ""),
    ],
)
def test_a_refused_line_keeps_its_members(
    client: FlaskClient, changes: dict[str, object], pointer: str, hint: str
) -> None:
    row = {"own": [1, {"a": None}], **DOSE, **changes}
    refused = objects(send(client, "dose", ndjson(row), NDJSON))[0]
    assert {name: refused[name] for name in row} == row
    assert list(refused)[: len(row)] == list(row)
    assert refused["errors"][0]["pointer"] == pointer
    assert hint in refused["error"]
    assert "input" not in refused


def test_a_misspelt_member_is_not_left_unscreened(client: FlaskClient) -> None:
    row = {"animal": {"species": "dog"}, "ingredients_text": "cellulose", "medication": ["carprofen"]}
    refused = objects(send(client, "screen", ndjson(row), NDJSON))[0]
    assert (refused["status"], refused["errors"][0]["pointer"]) == ("refused", "#/medication")


def test_an_empty_object_is_a_row(client: FlaskClient) -> None:
    refused = objects(send(client, "dose", b" {} \n", NDJSON))[0]
    assert refused["status"] == "refused"
    assert {fault["pointer"] for fault in refused["errors"]} == {"#/species", "#/ingredient"}


def test_blank_lines_and_a_mark_are_no_rows(client: FlaskClient) -> None:
    body = b"\xef\xbb\xbf" + ndjson(DOSE) + b"\r\n \n" + ndjson(DOSE).rstrip()
    assert [row["status"] for row in objects(send(client, "dose", body, NDJSON))] == ["ok", "ok"]


def test_a_line_that_is_too_long(client: FlaskClient) -> None:
    own = "x" * (LONGEST_ROW_BYTES - len(json.dumps({**DOSE, "own": ""})) - 1)
    assert objects(send(client, "dose", ndjson({**DOSE, "own": own}), NDJSON))[0]["own"] == own
    response = send(client, "dose", ndjson(DOSE, {**DOSE, "own": own + "x"}), NDJSON)
    assert_problem(response, "body-too-large", hint="The row at line 2")


def test_utf_16_is_told(client: FlaskClient) -> None:
    assert_problem(send(client, "dose", ndjson(DOSE).decode().encode("utf-16"), NDJSON), "malformed-body", hint="UTF-8")
