"""The list of ingredients and the page of each."""

from __future__ import annotations

from urllib.parse import parse_qs, urlsplit

import pytest
from flask.testing import FlaskClient

from service.domain.describing import describe_ingredient, list_ingredients
from service.domain.exposure_words import FIRST_STEPS
from service.pages.ingredient import MOST_NAMES
from service.reference.releases import Releases, load_all
from tests.web.asserting import assert_problem
from tests.web.site.documents import by_class, by_id, links, page, text_of

IDS = sorted(load_all().newest.ingredients)


@pytest.mark.parametrize("id_", IDS)
def test_every_ingredient_has_a_sound_page(client: FlaskClient, releases: Releases, id_: str) -> None:
    root = page(client, f"/ingredients/{id_}")
    row = releases.newest.ingredients[id_]
    text = text_of(root.find(".//main"))
    assert text_of(root.find(".//h1")).casefold() == row.name.casefold()
    assert " ".join(row.what_it_does.split()) in text
    answer = describe_ingredient(releases.newest, id_)
    assert len(by_class(root, "sources")) == (1 if answer.source_ids else 0)
    assert all(by_id(root, f"source-{source_id}") is not None for source_id in answer.source_ids)


def test_links_of_the_list_lead_somewhere(client: FlaskClient, releases: Releases) -> None:
    root = page(client, "/ingredients")
    assert {link for link in links(root) if link.startswith("/ingredients/")} == {
        f"/ingredients/{id_}" for id_ in releases.newest.ingredients
    }


@pytest.mark.parametrize(
    "query", [{"q": "GLUCOS"}, {"kind": "hazard"}, {"species": "cat", "kind": "active"}, {"q": "birkenzucker"}]
)
def test_filters_are_those_of_the_interface(client: FlaskClient, releases: Releases, query: dict[str, str]) -> None:
    root = page(client, "/ingredients", **query)
    expected = {item.id for item in list_ingredients(releases.newest, **query)}
    assert expected
    assert {link.removeprefix("/ingredients/") for link in links(root) if link.startswith("/ingredients/")} == expected
    csv = next(urlsplit(link) for link in links(root) if link.startswith("/v1/ingredients.csv"))
    assert parse_qs(csv.query) == {name: [text] for name, text in query.items()}
    assert client.get("/v1/ingredients.csv", query_string=query).status_code == 200


def test_nothing_found_is_no_reassurance(client: FlaskClient) -> None:
    text = text_of(page(client, "/ingredients", q="qqqq").find(".//main"))
    assert "No ingredients. What is not known here is not thereby harmless." in text.replace("harmless .", "harmless.")


def test_a_wrong_filter_is_explained_beside_its_field(client: FlaskClient) -> None:
    root = page(client, "/ingredients", kind="vitamin", q="x")
    assert "not one of active" in text_of(by_id(root, "kind-error"))
    assert by_id(root, "q").get("value") == "x"


def test_unknown_ingredient_is_a_problem_with_nearest(client: FlaskClient) -> None:
    assert "glucosamine" in assert_problem(client.get("/ingredients/glucosamin"), "unknown-ingredient")["nearest"]


def test_evidence_stands_with_its_dissent(client: FlaskClient, releases: Releases) -> None:
    text = text_of(page(client, "/ingredients/glucosamine").find(".//main"))
    row = releases.newest.evidence["glucosamine"]
    assert row.summary in text
    assert row.dissent is not None
    assert row.dissent in text
    assert "Evidence is against it" in text


def test_every_amount_shows_its_outcome_and_how_it_is_known(client: FlaskClient, releases: Releases) -> None:
    root = page(client, "/ingredients/glucosamine")
    for row in releases.newest.regimens_of["glucosamine"]:
        whence = by_id(root, f"why-{row.id}")
        assert row.note is None or row.note.rstrip(". ")[1:] in text_of(whence)
        assert {f"#source-{id_}" for id_ in row.source_ids} <= {link.get("href") for link in whence.iter("a")}
    ids = {text_of(cell) for cell in root.iter("td") if cell.get("data-column") == "id"}
    assert ids == {row.id for row in releases.newest.regimens_of["glucosamine"]}
    outcomes = {text_of(cell) for cell in root.iter("td") if cell.get("data-column") == "outcome"}
    assert {"positive", "negative", "mixed", "not tested"} <= outcomes


def test_share_of_a_form_follows_from_the_formulas(client: FlaskClient) -> None:
    root = page(client, "/ingredients/glucosamine")
    # 179.172 / 215.63 = 0.8309 (molar masses of C6H13NO5 and C6H14ClNO5).
    assert "179.172 / 215.63" in text_of(by_id(root, "why-form-glucosamine-hydrochloride"))
    assert "C\u2086H\u2081\u2084ClNO\u2085" in text_of(root.find(".//main"))


def test_chart_and_question_for_each_species_with_amounts(client: FlaskClient, releases: Releases) -> None:
    root = page(client, "/ingredients/msm")
    images = [image.get("src", "") for image in root.iter("img")]
    assert images == ["/charts/amount.svg?species=dog&ingredient=msm"]
    hidden = {item.get("name"): item.get("value") for item in root.iter("input") if item.get("type") == "hidden"}
    assert hidden == {"species": "dog", "ingredient": "msm"}
    assert not list(page(client, "/ingredients/xylitol").iter("img"))


@pytest.mark.parametrize("id_", ["xylitol", "grape-raisin", "ibuprofen"])
def test_a_hazard_begins_with_what_to_do(client: FlaskClient, releases: Releases, id_: str) -> None:
    root = page(client, f"/ingredients/{id_}")
    text = text_of(root.find(".//main"))
    first = text_of(by_class(root, "alarm")[0])
    assert all(step in first for step in FIRST_STEPS)
    assert text.index(first) < text.index("What harm it can do")
    for hazard in releases.newest.hazards_of[id_]:
        for species in ("dog", "cat"):
            for tier in releases.newest.thresholds_of.get((hazard.id, species), ()):
                assert by_id(root, f"why-{tier.id}") is not None
        for factor in releases.newest.content_factors_of.get(hazard.id, ()):
            assert by_id(root, f"why-{factor.id}") is not None


def test_what_is_no_emergency_raises_no_alarm(client: FlaskClient) -> None:
    assert not by_class(page(client, "/ingredients/zinc"), "alarm")


def test_pairs_come_gravest_first(client: FlaskClient, releases: Releases) -> None:
    root = page(client, "/ingredients/zinc")
    level_of = {row.id: row.level for row in releases.newest.interactions}
    order = ("avoid", "veterinarian", "watch", "note")
    for group in by_class(root, "pairs"):
        levels = [order.index(level_of[item.get("id", "")]) for item in group.iter("li")]
        assert levels
        assert levels == sorted(levels)


def test_long_lists_of_names_end_in_a_link(client: FlaskClient, releases: Releases) -> None:
    answer = describe_ingredient(releases.newest, "flavouring")
    count = len({name.name for name in answer.names})
    assert count > MOST_NAMES
    details = page(client, "/ingredients/flavouring").find(".//details")
    assert details is not None
    text = text_of(details)
    assert f"{count} spellings lead here" in text
    assert f"{count - MOST_NAMES} more" in text
    assert "/v1/ingredients/flavouring" in links(details)


def test_tables_name_the_address_of_their_rows(client: FlaskClient, releases: Releases) -> None:
    version = releases.newest.stamp.version
    found = links(page(client, "/ingredients/glucosamine")) | links(page(client, "/ingredients/zinc"))
    for table in ("guidance", "regimens", "forms", "limits", "evidence", "interactions", "hazard_thresholds"):
        address = f"/v1/dataset/{version}/{table}.csv"
        assert address in found
        assert client.get(address).status_code == 200


def test_page_is_revalidated(client: FlaskClient) -> None:
    for path in ("/ingredients", "/ingredients/msm"):
        response = client.get(path)
        assert response.headers["Cache-Control"] == "public, no-cache"
        assert client.get(path, headers={"If-None-Match": response.headers["ETag"]}).status_code == 304
