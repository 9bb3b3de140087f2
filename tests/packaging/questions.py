"""Questions whose answers must not depend on where the service is installed."""

from __future__ import annotations

import json
import urllib.error
import urllib.request
from dataclasses import dataclass
from typing import Any

from service.demo import care_note_body, compare_body, dose_path, label_body, scenario, screen_body


@dataclass(frozen=True, slots=True)
class Reply:
    """What came back, to the byte."""

    status: int
    content_type: str
    body: bytes


def questions() -> list[tuple[str, dict[str, Any] | None]]:
    """Return paths, with a body where the question is a POST."""
    case = scenario()
    animal, ingredient = case["animals"][0], case["ingredient"]
    asked: list[tuple[str, dict[str, Any] | None]] = [
        (path, None)
        for path in (
            "/v1",
            "/v1/ingredients",
            "/v1/ingredients.csv",
            "/v1/ingredients.html",
            "/v1/ingredients/glucosamine",
            "/v1/forms/glucosamine-hydrochloride",
            "/v1/resolve?name=birch%20sugar",
            "/v1/convert?form=glucosamine-sulfate-2kcl&amount=500%20mg",
            "/v1/screen?species=dog&ingredients_text=birch%20sugar",
            "/v1/exposure?species=dog&weight=10kg&substance=milk%20chocolate&amount=100%20g",
            "/v1/dataset",
            "/openapi.json",
            "/problems/no-guidance",
            "/v1/dose?species=dog&ingredient=glucosamine&weight=75",
            dose_path(animal, ingredient),
            dose_path(animal, ingredient).replace("/v1/dose?", "/v1/dose.csv?"),
        )
    ]
    for product in case["products"]:
        asked.append(("/v1/normalise", {"product": product}))
        asked.append(("/v1/screen", screen_body(animal, product)))
        asked.append(("/v1/labels/read", label_body(product)))
    asked.append(("/v1/compare", compare_body(animal, case["products"], ingredient)))
    asked.append(("/v1/combine", compare_body(animal, case["products"], ingredient)))
    asked += [(f"/v1/care-note{ending}", care_note_body()) for ending in ("", ".html", ".txt")]
    return asked


def ask(base_url: str, path: str, body: dict[str, Any] | None) -> Reply:
    """Send one question; the same Host everywhere, since addresses in answers are made from it."""
    request = urllib.request.Request(
        base_url + path,
        data=None if body is None else json.dumps(body).encode(),
        headers={"Host": "fabella.example", "Content-Type": "application/json"},
    )
    try:
        with urllib.request.urlopen(request, timeout=30) as answer:
            return Reply(answer.status, answer.headers["Content-Type"], answer.read())
    except urllib.error.HTTPError as error:
        with error:
            return Reply(error.code, error.headers["Content-Type"], error.read())


def differences(one_url: str, other_url: str) -> list[str]:
    """Ask both services everything; name each question that they answer differently."""
    found = []
    for path, body in questions():
        one, other = ask(one_url, path, body), ask(other_url, path, body)
        if one != other:
            found.append(f"{path}: {one.status} {one.body[:200]!r} but {other.status} {other.body[:200]!r}")
    return found


def failures(url: str) -> list[str]:
    """Name each question that the service fails at: only the one without a unit may be refused."""
    replies = [(path, ask(url, path, body).status) for path, body in questions()]
    return [f"{path}: {status}" for path, status in replies if status != (422 if path.endswith("weight=75") else 200)]
