"""``/charts/amount``: the picture and its numbers."""

from __future__ import annotations

import csv
import io
import xml.etree.ElementTree as ElementTree

import pytest
from flask.testing import FlaskClient

from service.pages.charts.palette import DARK, LIGHT
from service.web.site import charts
from tests.web.asserting import assert_problem

ASKED = {"species": "dog", "ingredient": "glucosamine", "weight": "34 kg"}
SVG, CSV = "/charts/amount.svg", "/charts/amount.csv"


def test_chart_is_an_svg_document(client: FlaskClient) -> None:
    answer = client.get(SVG, query_string=ASKED)
    assert answer.status_code == 200
    assert answer.content_type == "image/svg+xml; charset=utf-8"
    root = ElementTree.fromstring(answer.data)  # noqa: S314 - our own document
    texts = [element.text or "" for element in root.iter() if element.tag.endswith("}text")]
    assert "34 kg: loading 1000 to 2000 mg, maintenance 500 to 1000 mg" in texts
    assert any("Fabella dataset 1.1.0, released" in text for text in texts)
    assert len(answer.data) < 15_000


def test_chart_may_be_embedded_and_runs_nothing(client: FlaskClient) -> None:
    policy = client.get(SVG, query_string=ASKED).headers["Content-Security-Policy"]
    assert "default-src 'none'" in policy
    assert "script" not in policy
    assert "frame-ancestors" not in policy


def test_unpinned_chart_is_asked_for_again_pinned_is_kept(client: FlaskClient) -> None:
    answer = client.get(SVG, query_string=ASKED)
    assert answer.headers["Cache-Control"] == "public, no-cache"
    again = client.get(SVG, query_string=ASKED, headers={"If-None-Match": answer.headers["ETag"]})
    assert (again.status_code, again.data) == (304, b"")
    pinned = client.get(SVG, query_string={**ASKED, "dataset": "1.0.0"})
    assert "max-age=86400" in pinned.headers["Cache-Control"]
    assert b"Fabella dataset 1.0.0" in pinned.data
    head = client.head(SVG, query_string=ASKED)
    assert (head.status_code, head.data) == (200, b"")
    assert head.headers["ETag"] == answer.headers["ETag"]


def test_same_question_in_other_words_is_the_same_chart(client: FlaskClient) -> None:
    plain = client.get(SVG, query_string=ASKED).data
    before = charts._drawn.cache_info().misses
    for weight in ({"weight_kg": "34.0"}, {"weight": "34000 g"}):
        other = {"species": "dog", "ingredient": "glucosamine", **weight}
        assert client.get(SVG, query_string=other).data == plain
    assert charts._drawn.cache_info().misses == before


def test_layout_and_theme(client: FlaskClient) -> None:
    narrow = client.get(SVG, query_string={**ASKED, "layout": "narrow"}).get_data(as_text=True)
    assert ' width="360" ' in narrow
    dark = client.get(SVG, query_string={**ASKED, "theme": "dark"}).get_data(as_text=True)
    assert DARK.paper in dark
    assert LIGHT.paper not in dark


def test_weight_is_optional(client: FlaskClient) -> None:
    answer = client.get(SVG, query_string={"species": "dog", "ingredient": "msm"})
    assert answer.status_code == 200
    assert b"animal" not in client.get(CSV, query_string={"species": "dog", "ingredient": "msm"}).data


def test_numbers_are_those_of_the_chart(client: FlaskClient) -> None:
    answer = client.get(CSV, query_string=ASKED)
    assert answer.content_type == "text/csv; charset=utf-8; header=present"
    rows = list(csv.DictReader(io.StringIO(answer.get_data(as_text=True))))
    drawn = {row["id"] for row in rows if row["what"] == "published" and row["drawn"] == "yes"}
    svg = client.get(SVG, query_string=ASKED).get_data(as_text=True)
    assert drawn
    assert all(f'data-mark="{regimen}"' in svg for regimen in drawn)
    maintenance = next(row for row in rows if row["what"] == "animal asked for" and row["phase"] == "maintenance")
    assert (maintenance["low_mg_at_from"], maintenance["high_mg_at_from"]) == ("500", "1000")
    assert all(row["why_not_drawn"] for row in rows if row["drawn"] == "no")


@pytest.mark.parametrize("path", [SVG, CSV])
@pytest.mark.parametrize(
    ("change", "slug", "named", "hint"),
    [
        ({"species": None}, "invalid-input", "species", "is required"),
        ({"species": "horse"}, "invalid-input", "species", "not one of dog, cat"),
        ({"ingredient": None}, "invalid-input", "ingredient", "is required"),
        ({"weight": "34"}, "invalid-input", "weight", "has no unit"),
        ({"weight": "300 kg"}, "invalid-input", "weight", "outside 0.1 to 120 kg"),
        ({"weight_kg": "34"}, "invalid-input", "weight_kg", "exactly one of"),
        ({"format": "png"}, "invalid-input", "format", "nearest: form"),
        ({"form": "msm"}, "invalid-input", "form", "cannot state this amount"),
        ({"ingredient": "glucosamin"}, "unknown-ingredient", None, "No ingredient"),
        ({"form": "none-such"}, "not-found", None, "No form"),
        ({"species": "cat", "weight": "4 kg"}, "no-guidance", None, "holds no amount"),
        ({"dataset": "7.7.7"}, "unknown-dataset-release", None, "There is no dataset release"),
    ],
)
def test_bad_questions_are_problems(
    client: FlaskClient, path: str, change: dict[str, str | None], slug: str, named: str | None, hint: str
) -> None:
    query = {name: value for name, value in {**ASKED, **change}.items() if value is not None}
    assert_problem(client.get(path, query_string=query), slug, names=named, hint=hint)


def test_unknown_layout_and_theme_name_the_known_ones(client: FlaskClient) -> None:
    query = {**ASKED, "layout": "tall", "theme": "sepia"}
    problem = client.get(SVG, query_string=query)
    assert_problem(problem, "invalid-input", names="layout", hint="not one of wide, narrow")
    assert_problem(problem, "invalid-input", names="theme", hint="not one of light, dark")
    # Numbers have neither.
    assert_problem(client.get(CSV, query_string=query), "invalid-input", names="layout", hint="not a parameter")


def test_repeated_name_is_refused(client: FlaskClient) -> None:
    answer = client.get(f"{SVG}?species=dog&ingredient=msm&ingredient=msm")
    assert_problem(answer, "invalid-input", names="ingredient", hint="more than once")
