"""Every rule between rows finds its defect: one spoilt cell, one sentence that names it."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

import pytest

from service.reference.checking import check_tables, valid_cas
from service.reference.loading import TABLES, read_table
from service.reference.releases import load_working_tables
from tests.reference.small_dataset import DATASET, SmallDataset


def _tables(dataset: SmallDataset) -> Mapping[str, tuple[Any, ...]]:
    return {table: read_table(table, dataset.path(table).read_text("utf-8")) for table in TABLES}


def test_the_small_dataset_has_no_defect(dataset: SmallDataset) -> None:
    assert check_tables(_tables(dataset)) == ()


def test_the_working_tables_have_no_defect() -> None:
    assert check_tables(load_working_tables(DATASET).tables) == ()


@pytest.mark.parametrize(
    ("table", "number", "cells", "message"),
    [
        ("limits", 0, {"ingredient_id": "nothing"}, "limits glucosamine-rat, ingredient_id: nothing is not in ingred"),
        ("limits", 0, {"source_id": "nobody1999"}, "limits glucosamine-rat: source nobody1999 is not in sources"),
        ("limits", 0, {"more_source_ids": "trade;nobody"}, "limits glucosamine-rat: source nobody is not in sources"),
        ("forms", 2, {"candidate_form_ids": "glucosamine-base;gone"}, "candidate_form_ids: gone is not in forms"),
        ("guidance", 0, {"regimen_ids": "d013;d999"}, "guidance glucosamine-small, regimen_ids: d999 is not in"),
        ("medications", 0, {"class_ids": "none"}, "medications warfarin, class_ids: none is not in drug_classes"),
        ("interactions", 0, {"b_id": "aspirin"}, "interactions ix001: drug_class aspirin does not exist"),
        ("interactions", 0, {"b_kind": "class"}, "interactions ix001: class anticoagulant does not exist"),
        ("names", 0, {"target_id": "salt"}, "names Glucosamine HCl: form salt does not exist"),
        ("names", 0, {"target_id": ""}, "target_kind form and target_id None contradict"),
        ("names", 0, {"target_kind": "none"}, "target_kind none and target_id glucosamine-hydrochloride contradict"),
        ("names", 2, {"false_friend_of": ""}, "names birch leaf: a false friend must say of what"),
        ("names", 2, {"false_friend_of": "sorbitol"}, "names birch leaf: a false friend must say of what"),
        ("ingredients", 0, {"kind": "drug"}, "ingredients glucosamine, kind: 'drug' is not one of the allowed words"),
        ("conditions", 0, {"species": "dog;horse"}, "conditions bleeding-disorder, species: 'horse' is not one of"),
        ("limits", 0, {"origin": "guessed"}, "limits glucosamine-rat: origin 'guessed' is not one of"),
        ("sources", 7, {"origin": "seen"}, "sources spoons: origin 'seen' is not one of"),
        ("guidance", 0, {"amount_low": "1001"}, "guidance glucosamine-small: amount_low 1001 is above amount_high"),
        ("hazard_thresholds", 0, {"mg_per_kg_low": "101"}, "mg_per_kg_low 101 is above mg_per_kg_high 100"),
        ("forms", 0, {"share_low": "0", "share_high": "0"}, "forms glucosamine-base: a share lies between 0 and 1"),
        ("forms", 2, {"share_high": "1.1"}, "forms glucosamine-unspecified: a share lies between 0 and 1"),
        ("forms", 1, {"share_high": "0.9"}, "forms glucosamine-hydrochloride: a defined form has one share"),
        ("forms", 2, {"candidate_form_ids": ""}, "glucosamine-unspecified: an open form names its candidates"),
        ("forms", 1, {"cas": "66-84-3"}, "glucosamine-hydrochloride: the check digit of CAS 66-84-3 is wrong"),
        ("guidance", 0, {"from_kg": "1"}, "guidance glucosamine dog maintenance: the bands do not cover 0.1 kg and up"),
        ("guidance", 1, {"to_kg": "60"}, "guidance glucosamine dog maintenance: the bands do not cover 0.1 kg and up"),
        ("guidance", 1, {"from_kg": "6"}, "guidance glucosamine dog maintenance: gap or overlap at 5 kg"),
        ("guidance", 1, {"from_kg": "4"}, "guidance glucosamine dog maintenance: gap or overlap at 5 kg"),
        ("guidance", 0, {"origin": "memory"}, "guidance glucosamine-small: no amount may rest on memory alone"),
        ("guidance", 0, {"origin": "read"}, "glucosamine-small: origin read but its source is a rule of the trade"),
    ],
)
def test_a_spoilt_cell_is_named(
    dataset: SmallDataset, table: str, number: int, cells: dict[str, str], message: str
) -> None:
    dataset.set(table, number, **cells)
    assert any(message in defect for defect in check_tables(_tables(dataset)))


def test_guidance_for_cats_is_refused(dataset: SmallDataset) -> None:
    dataset.add("guidance", 0, id="glucosamine-cat", species="cat", to_kg="")
    assert "guidance glucosamine-cat: no amount for cats is published" in check_tables(_tables(dataset))


@pytest.mark.parametrize(
    ("table", "key"),
    [
        ("forms", "glucosamine-base"),
        ("units", "mg"),
        ("evidence", "glucosamine"),
        ("names", "Glucosamine HCl + form + glucosamine-hydrochloride + phrase"),
    ],
)
def test_a_repeated_key_is_named(dataset: SmallDataset, table: str, key: str) -> None:
    dataset.add(table, 0)
    assert f"{table}: {key} stands 2 times" in check_tables(_tables(dataset))


@pytest.mark.parametrize("number", ["66-84-2", "7732-18-5", "3416-24-8"])
def test_check_digits_of_registry_numbers(number: str) -> None:
    assert valid_cas(number)


@pytest.mark.parametrize("number", ["66-84-3", "66-842", "6684-2", "66-84-x", "", "2"])
def test_wrong_registry_numbers(number: str) -> None:
    assert not valid_cas(number)
