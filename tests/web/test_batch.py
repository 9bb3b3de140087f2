"""Batches: each row as the single endpoint answers it, in order, one refused row never stopping the others."""

from __future__ import annotations

import logging
from collections.abc import Iterator
from dataclasses import replace
from typing import Any

import pytest
from flask.testing import FlaskClient

from service.domain.dose_answer import DoseAnswer
from service.domain.dosing import DoseRequest
from service.reference.release import Reference
from service.schemas.batch_columns import DOSE, SCREEN, normalise_columns
from service.schemas.batch_limits import MOST_ROWS
from service.web.batch import arriving, dose_rows, views
from service.web.batch.lines import Readable
from service.web.batch.tasks import Task
from service.web.envelope import Envelope
from tests.web.asserting import assert_problem
from tests.web.batch_rows import ADA, CSV, NDJSON, cells, dose_csv, ndjson, objects, send
from tests.web.invented import DOSE as DOSE_QUERY
from tests.web.invented import normalise_body, product, screen_body

BO = "Invented Bo,cat,16 kg,glucosamine"
CLEO = "Invented Cleo,dog,75 lb,msm"


class TestDose:
    """Amounts for many animals."""

    def test_rows_come_back_in_order_with_their_own_columns_first(self, client: FlaskClient) -> None:
        response = send(client, "dose", dose_csv(ADA, BO, CLEO))
        rows = cells(response)
        assert response.content_type == "text/csv; charset=utf-8; header=present"
        assert list(rows[0]) == ["name", "species", "weight", "ingredient", *DOSE]
        assert [row["name"] for row in rows] == ["Invented Ada", "Invented Bo", "Invented Cleo"]
        assert [row["status"] for row in rows] == ["ok", "refused", "ok"]
        assert rows[2]["weight"] == "75 lb"

    def test_a_row_says_what_the_single_endpoint_says(self, client: FlaskClient) -> None:
        single = client.get("/v1/dose", query_string=DOSE_QUERY).get_json()
        row = cells(send(client, "dose", dose_csv(ADA)))[0]
        for phase in single["phases"]:
            for member in ("low_mg", "high_mg", "moiety_low_mg", "moiety_high_mg"):
                assert float(row[f"{phase['phase']}_{member}"]) == phase[member]
        assert row["form_used"] == single["form"]
        assert row["evidence_verdict"] == single["evidence"]["verdict"]
        assert row["caution_codes"].split(";") == [caution["code"] for caution in single["cautions"]]
        assert row["source_ids"].split(";") == [source["id"] for source in single["sources"]]
        assert row["dataset_version"] == single["dataset"]["version"]
        assert row["notice"] == single["notice"]

    def test_body_condition_and_trait_have_columns(self, client: FlaskClient) -> None:
        head = "species,weight_kg,ingredient,body_condition_score,trait"
        row = cells(send(client, "dose", dose_csv("dog,34,glucosamine,7,sighthound", head=head)))[0]
        query = {**DOSE_QUERY, "body_condition_score": 7, "trait": "sighthound"}
        single = client.get("/v1/dose", query_string=query).get_json()
        assert float(row["ideal_weight_kg"]) == single["ideal_weight_kg"]
        ideal = {phase["phase"]: phase for phase in single["ideal_weight"]["phases"]}
        assert float(row["ideal_maintenance_low_mg"]) == ideal["maintenance"]["low_mg"]
        assert row["trait_note"] == " ".join(single["trait"]["statements"])

    @pytest.mark.parametrize(
        ("row", "column", "hint", "problem"),
        [
            ("x,dog,34,glucosamine", "weight", "has no unit", "invalid-input"),
            ("x,dog,,glucosamine", "weight", "exactly one of", "invalid-input"),
            ("x,,34 kg,glucosamine", "species", "is required", "invalid-input"),
            ("x,dog,34 kg,", "ingredient", "is required", "invalid-input"),
            ("x,horse,34 kg,glucosamine", "species", "not one of dog, cat", "invalid-input"),
            ("x,dog,34 kg,glucosamin", "ingredient", "glucosamine", "unknown-ingredient"),
            ("x,cat,4 kg,glucosamine", "ingredient", "", "no-guidance"),
        ],
    )
    def test_a_refused_row_names_column_and_reason(
        self, client: FlaskClient, row: str, column: str, hint: str, problem: str
    ) -> None:
        first, refused, last = cells(send(client, "dose", dose_csv(ADA, row, CLEO)))
        assert (first["status"], refused["status"], last["status"]) == ("ok", "refused", "ok")
        assert refused["error"].startswith(f"{column}: ")
        assert hint in refused["error"]
        assert refused["problem"] == problem
        assert refused["loading_low_mg"] == refused["dataset_version"] == ""

    def test_several_faults_of_a_row_are_all_named(self, client: FlaskClient) -> None:
        refused = cells(send(client, "dose", dose_csv("x,horse,34 kg,")))[0]
        assert refused["error"].split("; ")[0].startswith("species: ")
        assert "; ingredient: is required" in refused["error"]

    def test_a_line_has_the_whole_answer(self, client: FlaskClient) -> None:
        single = client.get("/v1/dose", query_string=DOSE_QUERY).get_json()
        response = send(client, "dose", ndjson({"name": "Invented Ada", **DOSE_QUERY}), NDJSON)
        assert response.content_type == NDJSON
        assert objects(response) == [{"name": "Invented Ada", **DOSE_QUERY, "status": "ok", "result": single}]

    def test_a_line_without_citations(self, client: FlaskClient) -> None:
        single = client.get("/v1/dose", query_string=DOSE_QUERY).get_json()
        result = objects(send(client, "dose", ndjson(DOSE_QUERY), NDJSON, "detail=ids"))[0]["result"]
        assert result.pop("source_ids") == [source["id"] for source in single.pop("sources")]
        assert result.pop("dataset_version") == single.pop("dataset")["version"]
        assert result == single


class TestNormalise:
    """Many products, one a row."""

    HEAD = "id,unit_count,price,currency,serving_units,fact_1_name,fact_1_amount,fact_3_name,fact_3_amount,shelf"

    def test_a_row_says_what_the_single_endpoint_says(self, client: FlaskClient) -> None:
        row = cells(
            send(
                client, "normalise", dose_csv("p1,120,14.40,USD,2,Glucosamine HCl,1000 mg,MSM,400 mg,A", head=self.HEAD)
            )
        )[0]
        single = client.post("/v1/normalise", json=normalise_body()).get_json()
        assert list(row) == [*self.HEAD.split(","), *normalise_columns((1, 3))]
        assert row["shelf"] == "A"
        assert float(row["cost_per_unit"]) == single["cost_per_unit"]
        for number, fact in zip((1, 3), single["facts"], strict=True):
            for member in ("ingredient", "form", "moiety"):
                assert row[f"fact_{number}_{member}"] == fact[member]
            for member in ("mg_per_unit", "moiety_mg_per_unit", "cost_per_g"):
                assert float(row[f"fact_{number}_{member}"]) == fact[member]

    def test_an_empty_fact_is_none_and_the_others_keep_their_numbers(self, client: FlaskClient) -> None:
        row = cells(send(client, "normalise", dose_csv("p1,120,,,2,,,MSM,400 mg,A", head=self.HEAD)))[0]
        assert (row["status"], row["fact_1_ingredient"], row["fact_3_ingredient"]) == ("ok", "", "msm")

    @pytest.mark.parametrize(
        ("row", "column"),
        [
            ("p1,120,,,2,,,MSM,lots,A", "fact_3_amount"),
            ("p1,120,,,2,,400 mg,,,A", "fact_1_name"),
            ("p1,120,14.40,,2,MSM,400 mg,,,A", "currency"),
            ("p1,120,,,0,MSM,400 mg,,,A", "serving_units"),
            ("p1,many,,,2,MSM,400 mg,,,A", "unit_count"),
        ],
    )
    def test_a_refused_row_names_the_column(self, client: FlaskClient, row: str, column: str) -> None:
        refused = cells(send(client, "normalise", dose_csv(row, head=self.HEAD)))[0]
        assert refused["status"] == "refused"
        assert refused["error"].startswith(f"{column}: ")

    def test_a_line_is_the_body_of_the_single_endpoint(self, client: FlaskClient) -> None:
        single = client.post("/v1/normalise", json=normalise_body()).get_json()
        faulty = {"product": product(facts=[{"name": "MSM", "amount": "lots"}])}
        good, refused = objects(send(client, "normalise", ndjson(normalise_body(), faulty), NDJSON))
        assert good["result"] == single
        assert refused["product"] == faulty["product"]
        assert refused["errors"][0]["pointer"] == "#/product/facts/0/amount"
        assert refused["error"].startswith("product/facts/0/amount: ")


class TestScreen:
    """Many animals screened."""

    HEAD = "name,species,weight,ingredients_text,medications,conditions"

    def test_a_row_says_what_the_single_endpoint_says(self, client: FlaskClient) -> None:
        line = 'x,dog,34 kg,"willow bark, birch sugar",carprofen; prednisolone,epilepsy'
        row = cells(send(client, "screen", dose_csv(line, head=self.HEAD)))[0]
        body = {
            "animal": {"species": "dog", "weight": "34 kg"},
            "ingredients_text": "willow bark, birch sugar",
            "medications": ["carprofen", "prednisolone"],
            "conditions": ["epilepsy"],
        }
        single = client.post("/v1/screen", json=body).get_json()
        assert list(row) == [*self.HEAD.split(","), *SCREEN]
        assert row["verdict"] == single["verdict"] == "stop"
        assert int(row["finding_count"]) == len(single["findings"])
        assert row["findings"].split(";")[0].startswith("avoid ")
        assert row["gravest_effect"] == single["findings"][0]["effect"]
        assert "prednisolone" in row["recognised_ids"].split(";")
        assert "epilepsy = epilepsy" in row["taken_as"].split(";")

    def test_what_is_not_known_is_never_nothing(self, client: FlaskClient) -> None:
        row = cells(send(client, "screen", dose_csv("x,dog,,cellulose and zzqx,,", head=self.HEAD)))[0]
        assert row["verdict"] == "incomplete"
        assert "zzqx" in row["unrecognised"]

    def test_nothing_to_screen_is_refused(self, client: FlaskClient) -> None:
        row = cells(send(client, "screen", dose_csv("x,dog,,,carprofen,", head=self.HEAD)))[0]
        assert (row["status"], row["error"].partition(":")[0]) == ("refused", "ingredients_text")

    def test_a_line_is_the_body_of_the_single_endpoint(self, client: FlaskClient) -> None:
        body = screen_body()
        single = client.post("/v1/screen", json=body).get_json()
        assert objects(send(client, "screen", ndjson(body), NDJSON)) == [{**body, "status": "ok", "result": single}]


@pytest.mark.parametrize("operation", ["dose", "normalise", "screen"])
class TestEveryBatch:
    """What all three share."""

    @pytest.mark.parametrize("media_type", ["application/json", "text/plain", "application/csv", None])
    def test_wrong_media_type(self, client: FlaskClient, operation: str, media_type: str | None) -> None:
        response = client.post(f"/v1/batch/{operation}", data=b"{}", content_type=media_type)
        assert_problem(response, "unsupported-media-type", hint="text/csv, application/x-ndjson")

    @pytest.mark.parametrize("media_type", ["text/csv; charset=iso-8859-1", "text/csv; header=absent"])
    def test_other_kinds_of_csv(self, client: FlaskClient, operation: str, media_type: str) -> None:
        assert_problem(send(client, operation, b"a", media_type), "unsupported-media-type")

    @pytest.mark.parametrize("body", [b"", b"\xef\xbb\xbf", b"\r\n\r\n"])
    @pytest.mark.parametrize("media_type", [CSV, NDJSON])
    def test_empty_body(self, client: FlaskClient, operation: str, media_type: str, body: bytes) -> None:
        assert_problem(send(client, operation, body, media_type), "malformed-body", hint="empty")

    def test_same_format_out_or_none(self, client: FlaskClient, operation: str) -> None:
        assert_problem(send(client, operation, b"{}", NDJSON, Accept="text/csv"), "not-acceptable")

    def test_unknown_release(self, client: FlaskClient, operation: str) -> None:
        assert_problem(send(client, operation, b"{}", NDJSON, "dataset=9.9.9"), "unknown-dataset-release")

    @pytest.mark.parametrize(("media_type", "query"), [(CSV, "detail=ids"), (NDJSON, "separator=tab")])
    def test_a_setting_of_the_other_format(
        self, client: FlaskClient, operation: str, media_type: str, query: str
    ) -> None:
        response = send(client, operation, b"{}", media_type, query)
        assert_problem(response, "invalid-input", names=query.partition("=")[0], hint="leave it out")

    def test_jsonl_is_the_same_under_its_own_name(self, client: FlaskClient, operation: str) -> None:
        response = send(client, operation, b"{}\n", "application/jsonl")
        assert response.content_type == "application/jsonl"
        assert objects(response)[0]["status"] == "refused"


def test_one_release_serves_the_whole_batch(client: FlaskClient) -> None:
    rows = cells(send(client, "dose", dose_csv(ADA, CLEO), query="dataset=1.0.0"))
    assert {row["dataset_version"] for row in rows} == {"1.0.0"}


@pytest.mark.parametrize("media_type", [CSV, NDJSON])
def test_rows_do_not_know_of_each_other(client: FlaskClient, media_type: str) -> None:
    weights = ("34 kg", "4", "75 lb", "0.05 kg", "34 kg")
    if media_type == CSV:
        head, *batches = dose_csv(*(f"x,dog,{weight},glucosamine" for weight in weights)).splitlines(keepends=True)
        together = send(client, "dose", head + b"".join(batches)).data.splitlines(keepends=True)[1:]
        alone = [send(client, "dose", head + row).data.splitlines(keepends=True)[1] for row in batches]
    else:
        batches = [ndjson({**DOSE_QUERY, "weight": weight}) for weight in weights]
        together = send(client, "dose", b"".join(batches), NDJSON).data.splitlines(keepends=True)
        alone = [send(client, "dose", row, NDJSON).data for row in batches]
    assert together == alone


def test_too_many_rows_are_refused_before_the_first_is_answered(client: FlaskClient) -> None:
    response = send(client, "dose", dose_csv(*[ADA] * (MOST_ROWS + 1)))
    assert_problem(response, "body-too-large", hint=f"row {MOST_ROWS + 1:,} begins at line {MOST_ROWS + 2}")
    assert_problem(send(client, "dose", b"{}\n" * (MOST_ROWS + 1), NDJSON), "body-too-large", hint="split it")


def test_as_many_rows_as_are_allowed(client: FlaskClient, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(views, "MOST_ROWS", 3)
    assert len(cells(send(client, "dose", dose_csv(ADA, ADA, ADA)))) == 3
    assert_problem(send(client, "dose", dose_csv(ADA, ADA, ADA, ADA)), "body-too-large")


def test_the_answer_is_packed_where_the_caller_admits_it(client: FlaskClient) -> None:
    plain = send(client, "dose", dose_csv(ADA, BO))
    packed = send(client, "dose", dose_csv(ADA, BO), Accept_Encoding="gzip")
    assert "Content-Encoding" not in plain.headers
    assert (packed.headers["Content-Encoding"], packed.headers["Vary"]) == ("gzip", "Accept-Encoding")
    gunzip = arriving.Gunzip()
    assert b"".join(gunzip.unpack(packed.data)) == plain.data
    gunzip.finish()


def test_a_failure_of_our_own_is_one_refused_row(
    client: FlaskClient, monkeypatch: pytest.MonkeyPatch, caplog: pytest.LogCaptureFixture
) -> None:
    whole = dose_rows.TASK.answer

    def fail(reference: Reference, request: DoseRequest) -> DoseAnswer:
        if request.animal.species == "cat":
            raise RuntimeError("a secret of the inside")
        answer: DoseAnswer = whole(reference, request)
        return answer

    monkeypatch.setitem(views.TASKS, "dose", replace(dose_rows.TASK, answer=fail))
    with caplog.at_level(logging.ERROR):
        rows = cells(send(client, "dose", dose_csv(ADA, "x,cat,4 kg,glucosamine", CLEO)))
    assert [row["status"] for row in rows] == ["ok", "refused", "ok"]
    assert rows[1]["problem"] == "internal"
    assert "secret" not in rows[1]["error"]
    assert "a secret of the inside" in caplog.text
    assert "Row 2 of a batch" in caplog.text


@pytest.mark.parametrize("media_type", [CSV, NDJSON])
def test_a_stream_that_breaks_says_so_in_its_last_row(
    client: FlaskClient, monkeypatch: pytest.MonkeyPatch, media_type: str
) -> None:
    body = dose_csv(ADA, CLEO) if media_type == CSV else ndjson(DOSE_QUERY, DOSE_QUERY)
    original = views.rows_for

    def breaking(task: Task, form: str, values: dict[str, Any]) -> views.Rows:
        rows = original(task, form, values)
        answers = rows.answers

        def some(stream: Readable, release: Envelope) -> Iterator[tuple[bytes, bool]]:
            yield next(answers(stream, release))
            raise OSError("the disk is gone")

        rows.answers = some  # type: ignore[method-assign,assignment]
        return rows

    monkeypatch.setattr(views, "rows_for", breaking)
    response = send(client, "dose", body, media_type)
    rows = cells(response) if media_type == CSV else objects(response)
    assert [row["status"] for row in rows] == ["ok", "cut_off"]
    assert rows[1]["error"] == "The answer ends after row 1; send the rest again."
