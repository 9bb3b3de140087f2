"""The documentation: whole, linked, valid, light, and true to the code."""

from __future__ import annotations

import re
from collections.abc import Mapping

import pytest
from flask.testing import FlaskClient

from service.pages.docs.caution_words import CAUTION_GROUPS
from service.pages.docs.guides import GROUPS, GUIDES
from service.pages.docs.words import FLAGS, KINDS, LEVELS, NOT_ASSESSED, TIERS, VERDICTS
from service.pages.wording import EVIDENCE_MEANING, ORIGIN_MEANING
from service.schemas.batch_limits import LARGEST_BATCH_BYTES, MOST_ROWS
from service.web.body import LARGEST_BODY_BYTES
from service.web.catalogue import OPERATIONS
from service.web.problems import KINDS as PROBLEMS
from tests.web.asserting import assert_problem
from tests.web.site.docs_pages import GUIDE_PATHS, PATHS, REFERENCE_PATHS
from tests.web.site.documents import assert_sound, by_class, by_id, links, page, parsed, text_of

_MOST_BYTES = 150_000
_LOADED = re.compile(r'(?:src|href)="(/static/[^"]+|/charts/[^"]+)"')
_FROM_STYLES = re.compile(r'url\("([^"]+)"\)')


@pytest.mark.parametrize("path", PATHS)
def test_page_is_sound(client: FlaskClient, path: str) -> None:
    root = page(client, path)
    assert root.findtext(".//h1")
    assert not list(root.iter("script"))


def test_index_links_to_every_guide_the_reference_and_the_console(client: FlaskClient) -> None:
    found = links(page(client, "/docs"))
    assert set(GUIDE_PATHS) | {"/docs/reference", "/docs/console", "/openapi.json"} <= found


@pytest.mark.parametrize("path", GUIDE_PATHS)
def test_a_guide_links_to_all_others(client: FlaskClient, path: str) -> None:
    root = page(client, path)
    assert set(GUIDE_PATHS) <= links(root)
    current = [link.get("href") for link in root.iter("a") if link.get("aria-current") == "page"]
    assert current == ["/docs", path]


def test_guides_have_one_place_each() -> None:
    assert sum(len(guides) for _, guides in GROUPS) == len(GUIDES)
    assert not {"reference", "console"} & set(GUIDES)


@pytest.mark.parametrize("path", PATHS)
def test_links_lead_somewhere(client: FlaskClient, path: str) -> None:
    for link in sorted(links(page(client, path))):
        address, _, anchor = link.partition("#")
        if not address.startswith("/"):
            continue
        answer = client.get(address, buffered=True)
        assert answer.status_code == 200, (path, link)
        if anchor:
            by_id(parsed(answer.get_data(as_text=True)), anchor)


@pytest.mark.parametrize("path", PATHS)
def test_page_weighs_little_with_all_that_it_loads(client: FlaskClient, path: str) -> None:
    text = client.get(path).get_data(as_text=True)
    loaded = {address.replace("&amp;", "&") for address in _LOADED.findall(text)}
    sizes = {path: len(text.encode())}
    for address in loaded:
        body = client.get(address, buffered=True).data
        sizes[address] = len(body)
        if ".css" in address:
            for font in _FROM_STYLES.findall(body.decode()):
                sizes[f"/static/{font}"] = len(client.get(f"/static/{font}", buffered=True).data)
    assert sum(sizes.values()) < _MOST_BYTES, sizes


@pytest.mark.parametrize("path", REFERENCE_PATHS)
def test_reference_can_be_kept_and_asked_for_again(client: FlaskClient, path: str) -> None:
    first = client.get(path)
    assert first.headers["Cache-Control"] == "public, no-cache"
    again = client.get(path, headers={"If-None-Match": first.headers["ETag"]})
    assert again.status_code == 304


def test_every_operation_has_an_entry_in_the_reference(client: FlaskClient) -> None:
    contents = page(client, "/docs/reference")
    for operation in OPERATIONS:
        entry = f"/docs/reference/{operation.tag}#{operation.id}"
        assert entry in links(contents), operation.id
        heading = by_id(page(client, f"/docs/reference/{operation.tag}"), operation.id)
        assert text_of(heading) == operation.summary


def test_reference_tells_parameters_bodies_answers_and_problems(client: FlaskClient) -> None:
    root = page(client, "/docs/reference/dose")
    text = text_of(by_class(root, "operation")[0])
    assert "GET /v1/dose" in text
    # The weights that are accepted, and a parameter that must be given.
    assert "weight_kg number; 0.1 to 120." in text
    assert "species text, required. Species of the animal. One of dog, cat." in text
    assert "/problems/no-guidance" in links(root)
    assert "/docs/reference#every-answer" in links(root)
    text = text_of(page(client, "/docs/reference/products"))
    assert "products list of objects, required; 1 to 50 entries." in text
    assert "aim text; by default low. Which end of the range to reach. One of low, middle, high." in text


def test_every_problem_is_shown(client: FlaskClient) -> None:
    errors, contents = page(client, "/docs/errors"), page(client, "/docs/reference")
    for slug, kind in PROBLEMS.items():
        assert f"{slug}, {kind.status}" in text_of(by_id(errors, slug))
        assert kind.title in text_of(errors)
        assert f"/problems/{slug}" in links(errors) & links(contents)


def _explained(client: FlaskClient, path: str, words: Mapping[str, str]) -> None:
    root = page(client, path)
    terms = {text_of(term) for term in root.iter("code")}
    text = text_of(root)
    for word, meaning in words.items():
        assert word in terms, (path, word)
        assert " ".join(meaning.replace("`", "").split()) in text, (path, word)


@pytest.mark.parametrize(
    ("path", "words"),
    [
        ("/docs/words", {code: text for group in CAUTION_GROUPS.values() for code, text in group.items()}),
        ("/docs/words", FLAGS),
        ("/docs/verdicts", {**VERDICTS, **LEVELS, **KINDS, **TIERS}),
        ("/docs/verdicts", NOT_ASSESSED),
        ("/docs/origin-and-evidence", ORIGIN_MEANING),
        ("/docs/origin-and-evidence", EVIDENCE_MEANING),
    ],
)
def test_every_word_is_explained(client: FlaskClient, path: str, words: Mapping[str, str]) -> None:
    _explained(client, path, words)


def test_limits_are_those_of_the_code(client: FlaskClient) -> None:
    text = text_of(page(client, "/docs/limits")).replace("\u202f", "")
    for limit in (LARGEST_BODY_BYTES, LARGEST_BATCH_BYTES, MOST_ROWS):
        assert str(limit) in text.replace(" ", "")
    assert "POST /v1/compare" in text
    assert "products 1 to 50 entries" in text


def test_what_is_said_of_other_origins_holds(client: FlaskClient) -> None:
    answer = client.get("/v1/resolve?name=MSM", headers={"Origin": "https://elsewhere.example"})
    said = "No headers for other origins are sent" in text_of(page(client, "/docs/limits"))
    assert said == ("Access-Control-Allow-Origin" not in answer.headers)


@pytest.mark.parametrize(
    ("path", "near"), [("/docs/erors", "errors"), ("/docs/reference/doses", "dose"), ("/docs/consol", "console")]
)
def test_unknown_page_names_the_nearest(client: FlaskClient, path: str, near: str) -> None:
    members = assert_problem(client.get(path), "not-found", hint="known: ")
    assert near in members["nearest"]


def test_pages_are_html_only(client: FlaskClient) -> None:
    for path in ("/docs", "/docs/reference", "/docs/errors", "/docs/console"):
        assert_problem(client.get(path, headers={"Accept": "application/json"}), "not-acceptable")


def test_index_of_the_interface_names_the_documentation(client: FlaskClient) -> None:
    (link,) = [one for one in client.get("/v1").get_json()["links"] if one["name"] == "docs"]
    assert client.get(link["href"]).status_code == 200


def test_console_without_script_points_to_the_reference(client: FlaskClient) -> None:
    text = client.get("/docs/console").get_data(as_text=True)
    root = parsed(text)
    own = [script for script in root.iter("script") if not script.get("src", "").startswith("/static/")]
    assert [script.get("src", "").partition("?")[0] for script in own] == ["/docs/console/assets/swagger-ui-bundle.js"]
    for element in root.iter():
        for below in [one for one in element if one in own]:
            element.remove(below)
    assert_sound(root)
    assert "The console needs JavaScript" in text_of(by_id(root, "console"))
    assert {"/docs", "/docs/reference"} <= links(root)
    assert by_id(root, "console").get("aria-labelledby") == "operations"


def test_files_of_the_console_are_kept_for_a_year_by_their_hash(client: FlaskClient) -> None:
    text = client.get("/docs/console").get_data(as_text=True)
    addresses = re.findall(r'"(/docs/console/assets/[^"]+)"', text)
    assert len(addresses) == 2
    for address in addresses:
        response = client.get(address, buffered=True)
        assert response.status_code == 200
        assert response.headers["Cache-Control"] == "public, max-age=31536000, immutable"
        assert response.headers["X-Content-Type-Options"] == "nosniff"
        assert response.mimetype in ("text/css", "text/javascript")
        again = client.get(address, headers={"If-None-Match": response.headers["ETag"]}, buffered=True)
        assert again.status_code == 304
        for other in (address.partition("?")[0], f"{address}0"):
            assert client.get(other, buffered=True).headers["Cache-Control"] == "public, no-cache"


@pytest.mark.parametrize("name", ["index.html", "swagger-ui.js", "..%2f__init__.py", "oauth2-redirect.html"])
def test_no_other_file_of_the_package_is_served(client: FlaskClient, name: str) -> None:
    assert_problem(client.get(f"/docs/console/assets/{name}"), "not-found")
