"""CSV as people save it: what is read, what is refused and told, what stays the caller's own."""

from __future__ import annotations

import codecs

import pytest
from flask.testing import FlaskClient

from service.schemas.batch_limits import LONGEST_ROW_BYTES
from tests.web.asserting import assert_problem
from tests.web.batch_rows import ADA, DOSE_HEAD, cells, dose_csv, send


@pytest.mark.parametrize(
    ("head", "column", "hint"),
    [
        ("name,species,ingredient", "weight", "one of weight, weight_kg, weight_lb is needed"),
        ("name,weight,ingredient", "species", "is needed, and the header row has no such column"),
        ("pet species,weight,ingredient", "species", "the nearest that is there: 'pet species'"),
        ("species,weight,ingredient,name,name", "name", "several columns"),
        ("species,weight,ingredient,species", "species", "several columns"),
        ("species,weight,ingredient,status", "status", "rename it"),
        ("species,weight,ingredient,loading_low_mg", "loading_low_mg", "rename it"),
        ("species,weight,ingredient,dataset", "dataset", "query parameter dataset"),
        ("species,weight,ingredient,Form", "Form", "write form"),
        ("species,weight,ingredient,age years", "age years", "write age_years"),
        ("species,weight,ingredient,traits", "traits", "looks like trait"),
        ("species,Weight,ingredient", "Weight", "write weight"),
    ],
)
def test_header_that_cannot_stand(client: FlaskClient, head: str, column: str, hint: str) -> None:
    assert_problem(send(client, "dose", dose_csv(head=head)), "invalid-input", names=f"#/{column}", hint=hint)


def test_a_column_without_a_name(client: FlaskClient) -> None:
    response = send(client, "dose", dose_csv(head=f"{DOSE_HEAD},"))
    assert_problem(response, "invalid-input", names="#", hint="column 5 has no name")


def test_too_many_columns(client: FlaskClient) -> None:
    head = ",".join((DOSE_HEAD, *(f"own{number}" for number in range(300))))
    assert_problem(send(client, "dose", dose_csv(head=head)), "body-too-large", hint="304 columns")


@pytest.mark.parametrize("own", ["height", "weight note", "id", "pet", "unit", "Dataset 2"])
def test_other_columns_are_the_callers_own(client: FlaskClient, own: str) -> None:
    row = cells(send(client, "dose", dose_csv(f"{ADA}, kept ", head=f"{DOSE_HEAD},{own}")))[0]
    assert row[own] == " kept "
    assert row["status"] == "ok"


@pytest.mark.parametrize("column", ["medication", "Conditions", "conditons", "medcations"])
def test_a_misspelt_column_is_not_left_unscreened(client: FlaskClient, column: str) -> None:
    response = send(client, "screen", dose_csv(head=f"species,ingredients_text,{column}"))
    assert_problem(response, "invalid-input", names=f"#/{column}", hint="looks like")


@pytest.mark.parametrize("column", ["fact_01_name", "fact_61_name", "fact_1_unit", "fact_sheet"])
def test_what_only_looks_like_a_fact(client: FlaskClient, column: str) -> None:
    response = send(client, "normalise", dose_csv(head=f"fact_1_name,{column}"))
    assert_problem(response, "invalid-input", names=f"#/{column}", hint="numbered fact")


def test_a_product_needs_something_to_normalise(client: FlaskClient) -> None:
    needed = send(client, "normalise", dose_csv(head="id,price"))
    assert_problem(needed, "invalid-input", names="#/fact_1_name", hint="one of fact_1_name, other_ingredients")
    nameless = send(client, "normalise", dose_csv(head="id,fact_2_amount"))
    assert_problem(nameless, "invalid-input", names="#/fact_2_name", hint="is needed")


@pytest.mark.parametrize(("separator", "word"), [(";", "semicolon"), ("\t", "tab")])
def test_another_separator_is_read_when_it_is_named(client: FlaskClient, separator: str, word: str) -> None:
    body = dose_csv(ADA).replace(b",", separator.encode())
    assert_problem(send(client, "dose", body), "invalid-input", names="separator", hint=f"separator={word}")
    rows = cells(send(client, "dose", body, query=f"separator={word}"), separator)
    assert (rows[0]["name"], rows[0]["status"]) == ("Invented Ada", "ok")


def test_a_comma_under_another_separator(client: FlaskClient) -> None:
    response = send(client, "dose", dose_csv(ADA), query="separator=tab")
    assert_problem(response, "invalid-input", names="separator", hint="separator=comma")


def test_every_line_ends_as_spreadsheets_want_it(client: FlaskClient) -> None:
    text = send(client, "dose", dose_csv(ADA, ADA).replace(b"\r\n", b"\n")).get_data(as_text=True)
    assert text.count("\r\n") == text.count("\n") == 3


@pytest.mark.parametrize("end", [b"\n", b"\r\n"])
@pytest.mark.parametrize("mark", [b"", codecs.BOM_UTF8])
def test_line_ends_and_marks(client: FlaskClient, mark: bytes, end: bytes) -> None:
    body = mark + dose_csv(ADA, "", ADA).replace(b"\r\n", end).removesuffix(end)
    rows = cells(send(client, "dose", body))
    assert [row["status"] for row in rows] == ["ok", "ok"]
    assert next(iter(rows[0])) == "name"


def test_a_header_alone_is_an_empty_batch(client: FlaskClient) -> None:
    response = send(client, "dose", dose_csv())
    assert cells(response) == []
    assert response.data.startswith(f"{DOSE_HEAD},status,error".encode())


@pytest.mark.parametrize(
    ("body", "hint"),
    [
        (dose_csv('"Ada,dog,34 kg,glucosamine'), "line 2 is not CSV: a quotation mark is opened and never closed"),
        (dose_csv(ADA, '"Ada"x,dog,34 kg,glucosamine'), "line 3 is not CSV: text follows a closing quotation mark"),
        (dose_csv(ADA).replace(b"\r\n", b"\r"), "lone carriage return"),
        (dose_csv("Ad\xe4,dog,34 kg,glucosamine").decode().encode("latin-1"), "not UTF-8 (line 2, byte 3 of it)"),
        (dose_csv(ADA).decode().encode("utf-16"), "UTF-16"),
    ],
)
def test_what_is_no_csv_in_utf_8(client: FlaskClient, body: bytes, hint: str) -> None:
    assert_problem(send(client, "dose", body), "malformed-body", hint=hint)


@pytest.mark.parametrize("filler", ["x", "x\n"])
def test_a_row_that_is_too_long(client: FlaskClient, filler: str) -> None:
    rest = ",dog,34 kg,glucosamine"
    longest = LONGEST_ROW_BYTES - len(f'""{rest}\r\n')
    name = (filler * longest)[:longest]
    assert cells(send(client, "dose", dose_csv(f'"{name}"{rest}')))[0]["name"] == name
    response = send(client, "dose", dose_csv(ADA, f'"{name}x"{rest}'))
    assert_problem(response, "body-too-large", hint="Is a quotation mark left open")


@pytest.mark.parametrize(
    ("row", "hint"), [(f"{ADA},more,=1+1", "left over: 'more', '=1+1'"), ("Ada,dog", "has 2 cells")]
)
def test_a_row_of_another_length(client: FlaskClient, row: str, hint: str) -> None:
    first, last = cells(send(client, "dose", dose_csv(row, ADA)))
    assert (first["status"], last["status"]) == ("refused", "ok")
    assert hint in first["error"]
    assert first["species"] == "dog"


@pytest.mark.parametrize(
    ("came", "comes_back"),
    [
        ("=1+1", "'=1+1"),
        ("@SUM(1)", "'@SUM(1)"),
        ("-cmd", "'-cmd"),
        ("-5", "-5"),
        ("+49", "+49"),
        ("-1.5", "-1.5"),
        ("-1+1", "'-1+1"),
        ("a=1", "a=1"),
        ("007", "007"),
        ("1e3", "1e3"),
        ("two\nlines", "two\nlines"),
        ('a "b", c', 'a "b", c'),
        ("  ", "  "),
    ],
)
def test_own_cells_come_back_as_they_came_unless_they_would_run(
    client: FlaskClient, came: str, comes_back: str
) -> None:
    quoted = '"' + came.replace('"', '""') + '"'
    row = cells(send(client, "dose", dose_csv(f"{quoted},dog,34 kg,glucosamine")))[0]
    assert row["name"] == comes_back


def test_a_formula_in_a_header_or_an_error_does_not_run(client: FlaskClient) -> None:
    response = send(client, "dose", dose_csv("Ada,=HYPERLINK(1),34 kg,glucosamine,x", head=f"{DOSE_HEAD},=own"))
    row = cells(response)[0]
    assert "'=own" in row
    assert row["species"] == "'=HYPERLINK(1)"
    assert row["error"].startswith("species: ")


def test_blanks_around_values_mean_nothing(client: FlaskClient) -> None:
    body = dose_csv("Ada, dog ,34 kg ,  glucosamine", head="name, species,weight ,ingredient")
    row = cells(send(client, "dose", body))[0]
    assert row["status"] == "ok"
    assert row[" species"] == " dog "


def test_control_characters_are_refused_where_they_are_read(client: FlaskClient) -> None:
    row = cells(send(client, "dose", dose_csv("a\x07,dog,34 kg,gluco\x00samine")))[0]
    assert (row["status"], row["name"]) == ("refused", "a\x07")
    assert "U+0000" in row["error"]
