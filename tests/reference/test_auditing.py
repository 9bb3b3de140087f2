"""``fabella dataset check`` finds every kind of defect, and each message says what and where."""

from __future__ import annotations

import json
import shutil
import unicodedata
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from service.reference import auditing
from service.reference.auditing import DOCUMENTS, audit, refresh
from service.reference.descriptor import FILE, dump_descriptor, load_descriptor
from service.reference.loading import TABLES
from tests.reference.small_dataset import DATASET, SmallDataset


def _resource(descriptor: dict[str, Any], name: str) -> dict[str, Any]:
    found: dict[str, Any] = next(entry for entry in descriptor["resources"] if entry["name"] == name)
    return found


def _field(descriptor: dict[str, Any], resource: str, name: str) -> dict[str, Any]:
    fields = _resource(descriptor, resource)["schema"]["fields"]
    found: dict[str, Any] = next(field for field in fields if field["name"] == name)
    return found


def test_the_small_dataset_has_no_defect(dataset: SmallDataset) -> None:
    assert audit(dataset.directory) == []


# --- the tables as text


@pytest.mark.parametrize(
    ("path", "old", "new", "message"),
    [
        ("tables/units.csv", b"mg,mg", b"\xffmg,mg", "tables/units.csv: is not UTF-8 at byte"),
        ("tables/units.csv", b"alias", b"\xef\xbb\xbfalias", "tables/units.csv: begins with a byte order mark"),
        ("tables/units.csv", b"\n", b"\r\n", "tables/units.csv: holds a carriage return"),
        ("tables/beliefs.csv", b"read\n", b"read", "tables/beliefs.csv: must end with exactly one line feed"),
        ("tables/beliefs.csv", b"read\n", b"read\n\n", "tables/beliefs.csv: must end with exactly one line feed"),
        ("README.md", b"# Fabella", b"# Fabella\r", "README.md: holds a carriage return"),
        ("tables/beliefs.csv", b"It is not.", b"It is safe to give.", "beliefs.csv line 2: promise 'safe to give'"),
        ("tables/beliefs.csv", b"It is not.", b"Perfectly safe.", "beliefs.csv line 2: promise 'Perfectly safe'"),
        ("tables/beliefs.csv", b"It is not.", "X\u00ae".encode(), "beliefs.csv line 2: brand mark '\u00ae'"),
        ("tables/beliefs.csv", b"It is not.", b"X(TM)", "beliefs.csv line 2: brand mark '(TM)'"),
        ("CHANGELOG.md", b"# Changes", b"# Changes\xe2\x84\xa2", "CHANGELOG.md line 1: brand mark"),
    ],
)
def test_bytes_that_no_table_may_hold(dataset: SmallDataset, path: str, old: bytes, new: bytes, message: str) -> None:
    dataset.replace(path, old, new)
    assert any(message in defect for defect in audit(dataset.directory))


def test_text_in_another_unicode_form(dataset: SmallDataset) -> None:
    dataset.set("beliefs", 0, summary=unicodedata.normalize("NFD", "Böse"))
    assert "tables/beliefs.csv line 2: is not in Unicode form NFC" in audit(dataset.directory)


def test_a_stereodescriptor_is_no_brand_mark(dataset: SmallDataset) -> None:
    dataset.set("beliefs", 0, summary="The (R)-form and 1200-22-2 (R).")
    assert audit(dataset.directory) == []


@pytest.mark.parametrize(
    ("table", "number", "cells", "message"),
    [
        ("guidance", 0, {"amount_low": "NaN"}, "guidance line 2, amount_low: 'NaN' is not a finite number"),
        ("guidance", 1, {"amount_low": "-inf"}, "guidance line 3, amount_low: '-inf' is not a finite number"),
        ("limits", 0, {"amount": "Infinity"}, "limits line 2, amount: 'Infinity' is not a finite number"),
        ("limits", 0, {"amount": "8_000"}, "limits line 2, amount: '8_000' is not a plain decimal number"),
        ("limits", 0, {"amount": "8e3"}, "limits line 2, amount: '8e3' is not a plain decimal number"),
        ("limits", 0, {"amount": "8,000"}, "limits line 2, amount: '8,000' is not a plain decimal number"),
        ("limits", 0, {"amount": "08"}, "limits line 2, amount: '08' is not a plain decimal number"),
        ("limits", 0, {"amount": " 8000"}, "limits line 2, amount: ' 8000' begins or ends with a blank"),
        ("guidance", 0, {"divided_doses": "2.0"}, "guidance line 2, divided_doses: '2.0' is not a whole number"),
        ("limits", 0, {"enforced": "False"}, "limits line 2, enforced: 'False' is not true or false"),
        ("limits", 0, {"unit": ""}, "limits line 2, unit: must not be empty"),
        ("beliefs", 0, {"summary": "padded "}, "beliefs line 2, summary: 'padded ' begins or ends with a blank"),
        ("beliefs", 0, {"summary": "two  blanks"}, "beliefs line 2, summary: 'two  blanks' has a double blank"),
        ("beliefs", 0, {"summary": "1\u00a0mg"}, "holds the invisible character U+00A0"),
        ("beliefs", 0, {"summary": "gap\u200b"}, "holds the invisible character U+200B"),
        ("beliefs", 0, {"summary": "a\nb"}, "holds the invisible character U+000A"),
        ("medications", 0, {"variants": "a;;b"}, "medications line 2, variants: 'a;;b' has an empty or padded list"),
        ("medications", 0, {"variants": "a; b"}, "medications line 2, variants: 'a; b' has an empty or padded list"),
        ("conditions", 0, {"species": "dog;dog"}, "conditions line 2, species: 'dog;dog' repeats a list item"),
        ("evidence", 0, {"verdict": "good"}, "evidence line 2, verdict: 'good' is not one of the categories"),
        ("hazard_thresholds", 0, {"grade": "E"}, "hazard_thresholds line 2, grade: 'E' is not one of the categories"),
    ],
)
def test_cells_that_no_table_may_hold(
    dataset: SmallDataset, table: str, number: int, cells: dict[str, str], message: str
) -> None:
    dataset.set(table, number, **cells)
    assert any(message in defect for defect in audit(dataset.directory))


def test_all_bad_cells_are_named_not_only_the_first(dataset: SmallDataset) -> None:
    dataset.set("limits", 0, amount="NaN", unit="")
    dataset.set("beliefs", 0, summary="padded ")
    assert len(audit(dataset.directory)) == 3


def test_a_unique_key_of_the_descriptor(dataset: SmallDataset) -> None:
    dataset.add("forms", 0, id="glucosamine-again", cas="")
    assert audit(dataset.directory) == ["forms: Glucosamine stands 2 times as name"]


def test_an_id_that_stands_twice(dataset: SmallDataset) -> None:
    dataset.add("conditions", 0, name="another")
    assert "conditions: bleeding-disorder stands 2 times" in audit(dataset.directory)


def test_a_row_that_is_too_long(dataset: SmallDataset) -> None:
    dataset.replace("tables/beliefs.csv", b"read\n", b"read,surplus\n")
    assert "beliefs line 2: 10 cells, expected 9" in audit(dataset.directory)


def test_an_unclosed_quotation_mark(dataset: SmallDataset) -> None:
    dataset.replace("tables/beliefs.csv", b"It is not.", b'"It is not.')
    assert any("beliefs line 2: unexpected end of data" in defect for defect in audit(dataset.directory))


def test_another_header(dataset: SmallDataset) -> None:
    dataset.replace("tables/beliefs.csv", b"id,ingredient_id", b"ingredient_id,id")
    assert any(defect.startswith("beliefs: the header is ['ingredient_id'") for defect in audit(dataset.directory))


# --- between rows


@pytest.mark.parametrize(
    ("table", "number", "cells", "message"),
    [
        ("limits", 0, {"ingredient_id": "nothing"}, "limits glucosamine-rat, ingredient_id: nothing is not in ingred"),
        ("forms", 1, {"cas": "66-84-3"}, "forms glucosamine-hydrochloride: the check digit of CAS 66-84-3 is wrong"),
        ("hazards", 0, {"cas": "87-99-1"}, "hazards xylitol: the check digit of CAS 87-99-1 is wrong"),
        ("guidance", 1, {"from_kg": "6"}, "guidance glucosamine dog maintenance: gap or overlap at 5 kg"),
        ("guidance", 0, {"origin": "memory"}, "guidance glucosamine-small: no amount may rest on memory alone"),
        (
            "guidance",
            0,
            {"amount_high": "1001"},
            "guidance glucosamine-small: 500 to 1001, its rule gives 500 to 1000",
        ),
        (
            "guidance",
            1,
            {"reassess_after_days": "71"},
            "guidance glucosamine-large: reassess_after_days 71, its trial gives 70",
        ),
        ("guidance", 0, {"rule_id": "unheard-of"}, "glucosamine-small: its rule cannot be computed: glucosamine-small"),
        (
            "guidance",
            0,
            {"regimen_ids": "d003"},
            "glucosamine-small: rests on regimens of origin memory alone",
        ),
        ("regimens", 1, {"amount_high": "900"}, "guidance glucosamine-large: 500 to 1000, its rule gives 500 to 900"),
        ("limits", 0, {"origin": "read"}, "limits glucosamine-rat: origin read, but the best of its sources is cited"),
        (
            "limits",
            0,
            {"source_id": "gamma2003", "origin": "cited"},
            "limits glucosamine-rat: origin cited, but the best of its sources is memory",
        ),
        ("names", 1, {"type": "false_friend", "false_friend_of": "xylitol"}, "hazards xylitol: no name leads to it"),
        ("sources", 7, {"note": ""}, "sources spoons: no row uses it, and its note does not say what it is used for"),
    ],
)
def test_rows_that_contradict_each_other(
    dataset: SmallDataset, table: str, number: int, cells: dict[str, str], message: str
) -> None:
    dataset.set(table, number, **cells)
    assert any(message in defect for defect in audit(dataset.directory))


def test_an_origin_may_be_explained_by_the_source_that_the_row_names(dataset: SmallDataset) -> None:
    dataset.set("limits", 0, source_id="gamma2003", note="quoted in alpha2001")
    dataset.add("limits", 0, id="other", source_id="beta2002")
    assert audit(dataset.directory) == []


def test_a_source_named_in_a_text_is_used(dataset: SmallDataset) -> None:
    dataset.add("sources", 4, id="delta-2004", title="Another")
    assert len(audit(dataset.directory)) == 1
    dataset.set("beliefs", 0, summary="It is not (delta-2004).")
    assert audit(dataset.directory) == []


def test_an_ingredient_and_its_hazard_without_a_name(dataset: SmallDataset) -> None:
    dataset.drop("names", 1)
    assert audit(dataset.directory) == [
        "ingredients xylitol: no name leads to it",
        "hazards xylitol: no name leads to it",
    ]


def test_a_second_hazard_of_an_ingredient_needs_a_name_of_its_own(dataset: SmallDataset) -> None:
    dataset.add("hazards", 0, id="xylitol-two", name="Xylitol two")
    dataset.set("names", 1, target_kind="ingredient")
    assert audit(dataset.directory) == ["hazards xylitol-two: no name leads to it"]


# --- the descriptor


def test_a_changed_byte_that_the_descriptor_was_not_told_of(dataset: SmallDataset) -> None:
    dataset.replace("tables/limits.csv", b"8000", b"9000")
    first, second = audit(dataset.directory)
    assert first.startswith("tables/limits.csv: hash sha256:")
    assert second == "descriptor limits, amount: the example is not a value of the column"


def test_a_missing_table(dataset: SmallDataset) -> None:
    dataset.path("limits").unlink()
    assert audit(dataset.directory) == ["tables/limits.csv: is missing"]


@pytest.mark.parametrize("name", DOCUMENTS)
def test_a_missing_document(dataset: SmallDataset, name: str) -> None:
    (dataset.directory / name).unlink()
    assert f"{name}: is missing" in audit(dataset.directory)


@pytest.mark.parametrize("text", ["", "[]", "{"])
def test_a_descriptor_that_is_none(dataset: SmallDataset, text: str) -> None:
    (dataset.directory / FILE).write_text(text, "utf-8")
    (defect,) = audit(dataset.directory)
    assert defect.startswith("datapackage.json: cannot be read: ")


def _set(resource: str, name: str, **members: object) -> Callable[[dict[str, Any]], None]:
    return lambda descriptor: _field(descriptor, resource, name).update(members)


SPOILT: list[tuple[str, Callable[[dict[str, Any]], object]]] = [
    ("descriptor: $schema is not https", lambda d: d.pop("$schema")),
    ("descriptor: licenses is missing", lambda d: d.pop("licenses")),
    ("descriptor: released is missing", lambda d: d.pop("released")),
    ("descriptor: units stands 0 times", lambda d: d["resources"].pop()),
    ("descriptor: units stands 2 times", lambda d: d["resources"].append(d["resources"][-1])),
    ("descriptor: extra is not a table", lambda d: d["resources"].append({"name": "extra"})),
    ("descriptor units: path is 'units.csv'", lambda d: _resource(d, "units").update(path="units.csv")),
    ("descriptor units: encoding is None", lambda d: _resource(d, "units").pop("encoding")),
    ("descriptor units: description is missing", lambda d: _resource(d, "units").pop("description")),
    ("descriptor units: the columns are ['unit'", lambda d: _resource(d, "units")["schema"]["fields"].pop(0)),
    ("descriptor units: the columns are ['origin'", lambda d: _resource(d, "units")["schema"]["fields"].reverse()),
    ("descriptor units, factor: type string, the records have number", _set("units", "factor", type="string")),
    ("descriptor units, factor: required is False", _set("units", "factor", constraints={})),
    ("descriptor units, note: required is True", _set("units", "note", constraints={"required": True})),
    ("descriptor units, note: description is missing", _set("units", "note", description="")),
    ("descriptor limits, enforced: only true and false", _set("limits", "enforced", trueValues=["true", "1"])),
    ("descriptor evidence, verdict: the categories differ", _set("evidence", "verdict", categories=["mixed"])),
    ("descriptor evidence, verdict: categories and enum", _set("evidence", "verdict", categories=["mixed"])),
    ("descriptor limits, origin: the categories differ", _set("limits", "origin", categories=["mixed", "read"])),
    ("descriptor conditions, species: the pattern differs", _set("conditions", "species", constraints={})),
    (
        "descriptor units: only an empty cell is a missing value",
        lambda d: _resource(d, "units")["schema"].update(missingValues=["", "-"]),
    ),
    ("descriptor units: primaryKey is None", lambda d: _resource(d, "units")["schema"].pop("primaryKey")),
    ("descriptor names: uniqueKeys lacks ['name'", lambda d: _resource(d, "names")["schema"].pop("uniqueKeys")),
    (
        "descriptor limits: lacks foreign key source_id to sources",
        lambda d: _resource(d, "limits")["schema"]["foreignKeys"].pop(),
    ),
    (
        "descriptor limits: has an unknown foreign key unit to units",
        lambda d: _resource(d, "limits")["schema"]["foreignKeys"].append(
            {"fields": ["unit"], "reference": {"resource": "units", "fields": ["alias"]}}
        ),
    ),
    (
        "descriptor units, unit: the example is not a value of the column",
        _set("units", "unit", example="kilo"),
    ),
    ("tables/units.csv: bytes ", lambda d: _resource(d, "units").update(bytes=1)),
    ("CITATION.cff: version is not the 7.0.0 of the descriptor", lambda d: d.update(version="7.0.0")),
    ("CITATION.cff: released is not the 2001-01-01", lambda d: d.update(released="2001-01-01")),
]


@pytest.mark.parametrize(("message", "spoil"), SPOILT, ids=[message for message, _ in SPOILT])
def test_a_spoilt_descriptor(dataset: SmallDataset, message: str, spoil: Callable[[dict[str, Any]], object]) -> None:
    descriptor = load_descriptor(dataset.directory)
    spoil(descriptor)
    (dataset.directory / FILE).write_bytes(dump_descriptor(descriptor))
    assert any(defect.startswith(message) for defect in audit(dataset.directory))


# --- the opinion from outside


@pytest.mark.parametrize(
    ("table", "cells", "message"),
    [
        ("limits", {"amount": "-1"}, 'frictionless limits line 2, amount: constraint "minimum" is "0"'),
        ("sources", {"doi": "doi:10.1"}, 'frictionless sources line 2, doi: constraint "pattern"'),
        ("forms", {"share_low": "1", "share_high": "1", "cas": "3416244"}, "the check digit of CAS"),
        ("regimens", {"id": "D003"}, 'frictionless regimens line 2, id: constraint "pattern"'),
    ],
)
def test_bounds_and_patterns_of_the_descriptor(
    dataset: SmallDataset, table: str, cells: dict[str, str], message: str
) -> None:
    if "id" in cells:
        dataset.add(table, 0, **cells)
        message = message.replace("line 2", "line 4")
    else:
        dataset.set(table, 0, **cells)
    assert any(message in defect for defect in audit(dataset.directory))


def test_without_frictionless_its_opinion_is_skipped_and_that_is_said(
    dataset: SmallDataset, monkeypatch: pytest.MonkeyPatch
) -> None:
    dataset.set("limits", 0, amount="-1")
    monkeypatch.setattr(auditing, "find_spec", lambda name: None)
    assert audit(dataset.directory) == []
    assert auditing.skipped() == (
        "frictionless is not installed: its validation of the descriptor and tables was skipped",
    )


# --- refreshing


def test_refresh_names_what_changed_and_changes_nothing_else(dataset: SmallDataset) -> None:
    before = load_descriptor(dataset.directory)
    dataset.replace("tables/limits.csv", b"8000", b"9000")
    assert refresh(dataset.directory) == ("limits",)
    assert refresh(dataset.directory) == ()
    after = load_descriptor(dataset.directory)
    assert _field(after, "limits", "amount")["example"] == "9000"
    for member in ("bytes", "hash", "schema"):
        _resource(before, "limits").pop(member)
        _resource(after, "limits").pop(member)
    assert before == after
    assert audit(dataset.directory) == []


def test_refresh_keeps_an_example_that_still_stands(dataset: SmallDataset) -> None:
    descriptor = load_descriptor(dataset.directory)
    _field(descriptor, "units", "alias")["example"] = "g"
    (dataset.directory / FILE).write_bytes(dump_descriptor(descriptor))
    dataset.add("units", 0, alias="milligram")
    assert _field(load_descriptor(dataset.directory), "units", "alias")["example"] == "g"


def test_refresh_drops_the_example_of_an_empty_column(dataset: SmallDataset) -> None:
    dataset.set("sources", 7, note="")
    assert "example" not in _field(load_descriptor(dataset.directory), "sources", "note")


def test_refresh_prefers_an_example_that_can_be_read(dataset: SmallDataset) -> None:
    dataset.set("sources", 0, note="long " * 30 + "end")
    dataset.set("sources", 7, note="used for: teaspoons")
    assert _field(load_descriptor(dataset.directory), "sources", "note")["example"] == "used for: teaspoons"


# --- the real tables


def test_the_descriptor_of_this_checkout_describes_every_column() -> None:
    descriptor = json.loads((DATASET / FILE).read_text("utf-8"))
    assert [entry["name"] for entry in descriptor["resources"]] == [table.replace("_", "-") for table in TABLES]
    for resource in descriptor["resources"]:
        for field in resource["schema"]["fields"]:
            place = f"{resource['name']}, {field['name']}"
            assert field["description"].endswith("."), place
            assert len(field["description"].split()) >= 3, place
            if field["type"] in ("number", "integer"):
                assert field["unit"], place
                assert field["constraints"]["minimum"] >= 0, place


def test_one_changed_byte_in_a_copy_of_the_real_tables_is_found(tmp_path: Path) -> None:
    copy = tmp_path / "dataset"
    shutil.copytree(DATASET, copy)
    refresh(copy)
    limits = copy / "tables" / "limits.csv"
    data = limits.read_bytes()
    limits.write_bytes(data.replace(b"370", b"371", 1))
    assert any(defect.startswith("tables/limits.csv: hash ") for defect in audit(copy))
