"""Bodies that are refused: quickly, with a pointer to the culprit, and never with a 500."""

from __future__ import annotations

import io
import json
from time import process_time
from typing import Any

import pytest
from flask.testing import FlaskClient
from werkzeug.test import EnvironBuilder, TestResponse, run_wsgi_app
from werkzeug.wrappers import Request

from tests.web.asserting import assert_problem
from tests.web.invented import compare_body, normalise_body, product, screen_body

_SECONDS = 0.1
PATHS = ("/v1/normalise", "/v1/compare", "/v1/screen", "/v1/compare.csv")


def post(client: FlaskClient, data: bytes | str, path: str = "/v1/normalise", **more: object) -> TestResponse:
    """Send a body as it stands and hold the answer to its time; a pause of the collector is forgiven once."""
    raw = data if isinstance(data, bytes) else data.encode("utf-8")
    arguments: dict[str, Any] = {"content_type": "application/json", **more}
    for _ in range(2):
        started = process_time()
        response = client.post(path, data=raw, **arguments)
        if process_time() - started < _SECONDS:
            return response
    raise AssertionError(f"{path} took too long over a body of {len(raw)} bytes")


@pytest.mark.parametrize("path", PATHS)
class TestEveryEndpoint:
    """What all endpoints with a body refuse in the same way."""

    def test_wrong_media_type(self, client: FlaskClient, path: str) -> None:
        for media_type in ("text/plain", "application/x-www-form-urlencoded", "application/jsonx", None):
            assert_problem(post(client, "{}", path, content_type=media_type), "unsupported-media-type")

    def test_other_encodings(self, client: FlaskClient, path: str) -> None:
        charset = post(client, "{}", path, content_type="application/json; charset=utf-16")
        assert_problem(charset, "unsupported-media-type")
        assert_problem(post(client, "{}", path, headers={"Content-Encoding": "gzip"}), "unsupported-media-type")

    @pytest.mark.parametrize(
        "data", ["", "{", "{'a': 1}", "{} {}", "nul", '{"a": 01}', '{"a": 1,}', '"\t"', "// x\n{}"]
    )
    def test_not_json(self, client: FlaskClient, path: str, data: str) -> None:
        assert_problem(post(client, data, path), "malformed-body", hint="line 1")

    @pytest.mark.parametrize("constant", ["NaN", "Infinity", "-Infinity"])
    def test_not_a_json_number(self, client: FlaskClient, path: str, constant: str) -> None:
        assert_problem(post(client, f'{{"a": {constant}}}', path), "malformed-body", hint=f"{constant} is not")

    @pytest.mark.parametrize("data", [b'{"a": "\xff"}', b'{"a": "\xed\xa0\x80"}', '{"a": 1}'.encode("utf-16")])
    def test_not_utf_8(self, client: FlaskClient, path: str, data: bytes) -> None:
        assert_problem(post(client, data, path), "malformed-body", hint="not UTF-8")

    @pytest.mark.parametrize("data", ["[]", '"text"', "1", "null", "true"])
    def test_not_an_object(self, client: FlaskClient, path: str, data: str) -> None:
        assert_problem(post(client, data, path), "invalid-input", names="#", hint="must be a JSON object")

    @pytest.mark.parametrize(
        "data", ["[" * 30_000 + "]" * 30_000, '{"a":' * 9_000 + "1" + "}" * 9_000, '{"a":' + "[" * 33 + "]" * 33 + "}"]
    )
    def test_deep_nesting(self, client: FlaskClient, path: str, data: str) -> None:
        assert_problem(post(client, data, path), "invalid-input", hint="nested more than 32 levels")

    def test_nesting_of_100_000(self, client: FlaskClient, path: str) -> None:
        assert_problem(post(client, "[" * 100_000 + "]" * 100_000, path), "body-too-large")

    def test_unknown_member_gets_the_nearest(self, client: FlaskClient, path: str) -> None:
        assert_problem(
            post(client, '{"prodcts": 1, "prodct": 1}', path),
            "invalid-input",
            names="#/prodct",
            hint="nearest: product",
        )

    def test_pinned_release_is_not_known(self, client: FlaskClient, path: str) -> None:
        assert_problem(post(client, "{}", f"{path}?dataset=9.9.9"), "unknown-dataset-release")


def test_body_of_the_greatest_size(client: FlaskClient) -> None:
    padded = json.dumps(screen_body()).encode()
    padded += b" " * (65_536 - len(padded))
    assert post(client, padded, "/v1/screen").status_code == 200
    assert_problem(post(client, padded + b" ", "/v1/screen"), "body-too-large")


@pytest.mark.parametrize(("size", "accepted"), [(65_536, True), (65_537, False), (1_000_000, False)])
def test_body_without_a_length(client: FlaskClient, size: int, accepted: bool) -> None:
    # As a server hands a chunked body over: no Content-Length, the stream ends by itself.
    body = json.dumps(screen_body()).encode()
    environ = EnvironBuilder("/v1/screen", method="POST", content_type="application/json").get_environ()
    environ |= {"wsgi.input": io.BytesIO(body + b" " * (size - len(body))), "wsgi.input_terminated": True}
    assert "CONTENT_LENGTH" not in environ
    answered = run_wsgi_app(client.application, environ, buffered=True)
    response = client.response_wrapper(*answered, request=Request(environ))
    if accepted:
        assert response.status_code == 200
    else:
        assert_problem(response, "body-too-large")


@pytest.mark.parametrize(
    ("data", "pointer"),
    [
        ('{"product": {}, "product": {}}', "#/product"),
        ('{"product": {"id": "a", "id": "a"}}', "#/product/id"),
        (
            '{"product": {"facts": [{"name": "a", "amount": "1 mg"}, {"name": "a", "name": "b", "amount": "1 mg"}]}}',
            "#/product/facts/1/name",
        ),
        ('{"a/b~c": 1, "a/b~c": 2}', "#/a~1b~0c"),
    ],
)
def test_repeated_member(client: FlaskClient, data: str, pointer: str) -> None:
    assert_problem(post(client, data), "invalid-input", names=pointer, hint="more than once")


@pytest.mark.parametrize("number", ["9" * 5000, "0." + "9" * 5000, "1e99999999999999999999", "-" + "1" * 41])
def test_numbers_of_absurd_length(client: FlaskClient, number: str) -> None:
    data = f'{{"product": {{"price": {number}}}}}'
    assert_problem(post(client, data), "invalid-input", names="#/product/price", hint="characters")


@pytest.mark.parametrize(
    ("escape", "name"),
    [("\\ud800", "U+D800"), ("\\udc00", "U+DC00"), ("\\u0000", "U+0000"), ("\\u001b", "U+001B"), ("\\u009f", "U+009F")],
)
def test_characters_that_no_text_may_hold(client: FlaskClient, escape: str, name: str) -> None:
    assert_problem(
        post(client, f'{{"product": {{"name": "a{escape}b"}}}}'), "invalid-input", names="#/product/name", hint=name
    )
    assert_problem(post(client, f'{{"product": {{"a{escape}b": 1}}}}'), "invalid-input", names="#/product", hint=name)
    text = f'{{"animal": {{"species": "dog"}}, "ingredients_text": "a{escape}b"}}'
    assert_problem(post(client, text, "/v1/screen"), "invalid-input", names="#/ingredients_text", hint=name)


def test_line_breaks_are_welcome_in_ingredient_lists_only(client: FlaskClient) -> None:
    assert (
        post(client, json.dumps(screen_body(ingredients_text="cellulose\r\n\tgelatin")), "/v1/screen").status_code
        == 200
    )
    body = {"product": product(name="two\nlines")}
    assert_problem(post(client, json.dumps(body)), "invalid-input", names="#/product/name", hint="single line")


PRODUCT_FAULTS: list[tuple[str, Any, str, str]] = [
    ("price", "14.40", "price", "JSON number"),
    ("price", True, "price", "JSON number"),
    ("price", 0, "price", "above 0"),
    ("price", -1, "price", "above 0"),
    ("price", 10_000_001, "price", "at most 10000000"),
    ("price", 0.1234567, "price", "at most 6 decimals"),
    ("price", None, "price", "given together"),
    ("currency", None, "currency", "given together"),
    ("currency", "usd", "currency", "ISO 4217"),
    ("currency", "XXX", "currency", "ISO 4217"),
    ("currency", 840, "currency", "must be a text"),
    ("unit_count", 0, "unit_count", "at least"),
    ("unit_count", [], "unit_count", "JSON number"),
    ("unit_energy_kcal", -1, "unit_energy_kcal", "at least 0"),
    ("divisible", "thirds", "divisible", "is not one of whole, halves"),
    ("serving", {"units": 0}, "serving/units", "at least"),
    ("serving", {}, "serving/units", "required"),
    ("serving", 2, "serving", "must be an object"),
    ("serving", {"units": 1, "unit": 2}, "serving/unit", "nearest: units"),
    ("facts", {}, "facts", "must be a list"),
    ("facts", [1], "facts/0", "must be an object"),
    ("facts", [{"name": "MSM", "amount": 5}], "facts/0/amount", "text"),
    ("facts", [{"name": "MSM", "amount": ""}], "facts/0/amount", "must not be empty"),
    ("facts", [{"name": "MSM", "amount": "x" * 121}], "facts/0/amount", "at most 120"),
    ("facts", [{"name": "MSM", "amount": "1 mg"}] * 61, "facts", "has 61 items"),
    ("id", "", "id", "must not be empty"),
    ("name", "x" * 201, "name", "at most 200"),
    ("other_ingredients", "x" * 10_001, "other_ingredients", "at most 10000"),
    ("facts", [{"name": "MSM", "amount": "lots"}], "facts/0/amount", ""),
]


@pytest.mark.parametrize(("member", "value", "where", "hint"), PRODUCT_FAULTS)
def test_fault_in_a_product(client: FlaskClient, member: str, value: object, where: str, hint: str) -> None:
    faulty = product(**{member: value})
    alone = post(client, json.dumps({"product": faulty}))
    assert_problem(alone, "invalid-input", names=f"#/product/{where}", hint=hint)
    compared = post(client, json.dumps(compare_body(products=[product(id="first"), faulty])), "/v1/compare")
    assert_problem(compared, "invalid-input", names=f"#/products/1/{where}", hint=hint)


@pytest.mark.parametrize(
    ("changes", "pointer", "hint"),
    [
        ({"products": []}, "#/products", "1 to 50"),
        ({"products": [{}] * 51}, "#/products", "1 to 50"),
        ({"products": [{}] * 15_000}, "#/products", "1 to 50"),
        ({"products": [product(), product()]}, "#/products/1/id", "differ"),
        ({"targets": []}, "#/targets", "1 to 10"),
        ({"targets": [{}]}, "#/targets/0/ingredient", "required"),
        ({"targets": [{"ingredient": "msm"}] * 2}, "#/targets/1/ingredient", "already"),
        ({"targets": [{"ingredient": "msm", "low_mg": 0}]}, "#/targets/0/low_mg", "at least"),
        ({"aim": "most"}, "#/aim", "low, middle, high"),
        ({"rank_by": "colour"}, "#/rank_by", "cost_per_day"),
        ({"animal": {"species": "dog"}}, "#/animal/weight", "exactly one"),
        ({"animal": {"species": "dog", "weight": "34"}}, "#/animal/weight", "no unit"),
        ({"animal": {"species": "dog", "weight": 34}}, "#/animal/weight", "must be a text"),
        ({"animal": {"species": "dog", "weight_kg": 34, "weight_lb": 75}}, "#/animal/weight_lb", "exactly one"),
        ({"animal": {"species": "cat", "weight_kg": 16}}, "#/animal/weight_kg", "0.1 to 15 kg"),
        ({"animal": {"species": "horse", "weight_kg": 16}}, "#/animal/species", "dog, cat"),
        ({"animal": {"species": "dog", "weight_kg": None}}, "#/animal/weight_kg", "null"),
        ({"animal": None}, "#/animal", "null"),
        ({"animl": {}}, "#/animl", "nearest: animal"),
    ],
)
def test_fault_in_a_comparison(client: FlaskClient, changes: dict[str, Any], pointer: str, hint: str) -> None:
    response = post(client, json.dumps(compare_body(**changes)), "/v1/compare")
    assert_problem(response, "invalid-input", names=pointer, hint=hint)


@pytest.mark.parametrize(
    ("changes", "pointer", "hint"),
    [
        ({"ingredients_text": None}, "#/ingredients_text", "null"),
        ({"ingredients_text": "x" * 10_001}, "#/ingredients_text", "at most 10000"),
        ({"medications": "carprofen"}, "#/medications", "must be a list"),
        ({"medications": [1]}, "#/medications/0", "must be a text"),
        ({"conditions": ["x"] * 51}, "#/conditions", "0 to 50"),
        ({"products": [{}] * 21}, "#/products", "0 to 20"),
        ({"other_supplements": [product(), product()]}, "#/other_supplements/1/id", "differ"),
    ],
)
def test_fault_in_a_screen(client: FlaskClient, changes: dict[str, Any], pointer: str, hint: str) -> None:
    response = post(client, json.dumps(screen_body(**changes)), "/v1/screen")
    assert_problem(response, "invalid-input", names=pointer, hint=hint)


def test_nothing_to_screen(client: FlaskClient) -> None:
    response = post(client, '{"animal": {"species": "dog"}, "medications": ["carprofen"]}', "/v1/screen")
    assert_problem(response, "invalid-input", names="#/ingredients_text", hint="nothing to screen")
    by_query = client.get("/v1/screen?species=dog")
    assert_problem(by_query, "invalid-input", names="ingredients_text", hint="nothing to screen")


@pytest.mark.parametrize(
    "data", [json.dumps({f"k{i}": 1 for i in range(5000)}), json.dumps({"product": {"a": ["\x00"] * 5000}})]
)
def test_very_many_faults_are_cut_short(client: FlaskClient, data: str) -> None:
    members = assert_problem(post(client, data), "invalid-input")
    assert len(members["errors"]) == 20


def test_a_good_body_is_accepted(client: FlaskClient) -> None:
    assert post(client, json.dumps(normalise_body())).status_code == 200
    with_charset = post(client, json.dumps(normalise_body()), content_type="application/json; charset=UTF-8")
    assert with_charset.status_code == 200
