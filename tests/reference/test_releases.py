"""Releases are found, verified and kept apart; a defect anywhere is never served."""

from __future__ import annotations

import json
import shutil
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from service.reference import auditing
from service.reference.descriptor import FILE, fingerprint
from service.reference.loading import TABLES
from service.reference.releases import (
    DefectiveRelease,
    UnknownVersion,
    dataset_directory,
    load_all,
    load_release,
    load_working_tables,
)
from service.reference.releasing import release
from tests.reference.small_dataset import DATASET, SmallDataset


@pytest.fixture(autouse=True)
def _own_checks_only(monkeypatch: pytest.MonkeyPatch) -> None:
    """Leave the slow opinion from outside to the tests of the audit."""
    monkeypatch.setattr(auditing, "find_spec", lambda name: None)


@pytest.fixture
def frozen(dataset: SmallDataset) -> Path:
    """Give the directory of a release without defects."""
    return release(dataset.directory, "1.0.0", "2026-11-25")


def _rewrite(root: Path, table: str, old: bytes, new: bytes) -> None:
    """Change a table and its hash alike, as someone would who edits a release on purpose."""
    path = root / "tables" / f"{table}.csv"
    data = path.read_bytes()
    assert old in data
    data = data.replace(old, new, 1)
    path.write_bytes(data)
    _edit(root, lambda descriptor: _resource(descriptor, table).update(fingerprint(data)))


def _resource(descriptor: dict[str, Any], table: str) -> dict[str, Any]:
    found: dict[str, Any] = next(entry for entry in descriptor["resources"] if entry["name"] == table)
    return found


def _edit(root: Path, change: Callable[[dict[str, Any]], object]) -> None:
    descriptor = json.loads((root / FILE).read_text("utf-8"))
    change(descriptor)
    (root / FILE).write_text(json.dumps(descriptor), "utf-8")


def test_a_release_is_loaded_whole(frozen: Path) -> None:
    reference = load_release(frozen)
    assert set(reference.tables) == set(TABLES)
    assert reference.stamp.sha256 == str(fingerprint((frozen / FILE).read_bytes())["hash"]).removeprefix("sha256:")
    assert reference.forms_of["glucosamine"][0].id == "glucosamine-base"
    assert reference.names_by_ingredient == {"glucosamine": ("Glucosamine HCl",), "xylitol": ("birch sugar",)}
    assert reference.thresholds_of["xylitol", "dog"][0].id == "xylitol-dog-1"
    with pytest.raises(TypeError, match="does not support item assignment"):
        reference.tables["forms"] = ()  # type: ignore[index]


@pytest.mark.parametrize(("old", "new"), [(b"8000", b"9000"), (b"cited\n", b"cited \n"), (b"cited\n", b"cited")])
def test_a_changed_byte(dataset: SmallDataset, frozen: Path, old: bytes, new: bytes) -> None:
    dataset.replace("releases/1.0.0/tables/limits.csv", old, new)
    with pytest.raises(DefectiveRelease, match=r"tables/limits\.csv is not the file that was released"):
        load_release(frozen)


@pytest.mark.parametrize(
    ("table", "old", "new", "message"),
    [
        ("limits", b"8000", b"NaN", "limits line 2, amount: 'NaN' is not a plain decimal number"),
        ("limits", b"8000", b"8_000", "limits line 2, amount: '8_000' is not a plain decimal number"),
        ("limits", b"beta2002", b"nobody", "limits glucosamine-rat: source nobody is not in sources"),
        ("limits", b"amount", b"Amount", "limits: the header is"),
        ("forms", b"66-84-2", b"66-84-3", "the check digit of CAS 66-84-3 is wrong"),
        ("guidance", b"common_practice", b"memory", "no amount may rest on memory alone"),
        ("evidence", b"mixed", b"great", "evidence row, verdict: 'great' is not one of the allowed words"),
        ("beliefs", b"It", b"\xff", "can't decode byte 0xff"),
    ],
)
def test_a_defect_under_a_true_hash(frozen: Path, table: str, old: bytes, new: bytes, message: str) -> None:
    _rewrite(frozen, table, old, new)
    with pytest.raises(DefectiveRelease, match=message):
        load_release(frozen)


@pytest.mark.parametrize(
    ("change", "message"),
    [
        (lambda root: (root / "tables" / "units.csv").unlink(), "units.csv"),
        (lambda root: (root / FILE).unlink(), "datapackage.json"),
        (lambda root: (root / FILE).write_text("{", "utf-8"), "release 1.0.0: Expecting property name"),
        (lambda root: (root / FILE).write_text("[]", "utf-8"), "release 1.0.0: list indices"),
        (lambda root: _edit(root, lambda d: d["resources"].pop()), "table units is not in the descriptor"),
        (lambda root: _edit(root, lambda d: _resource(d, "units").pop("hash")), "release 1.0.0: 'hash'"),
        (lambda root: _edit(root, lambda d: d.update(version="1.0.1")), "the descriptor says version 1.0.1"),
    ],
)
def test_a_release_that_is_not_whole(frozen: Path, change: Callable[[Path], object], message: str) -> None:
    change(frozen)
    with pytest.raises(DefectiveRelease, match=message):
        load_release(frozen)


def test_the_newest_release_answers_and_older_ones_stay(dataset: SmallDataset, frozen: Path) -> None:
    dataset.set("limits", 0, amount="9000")
    for version in ("1.2.0", "1.10.0"):
        release(dataset.directory, version, "2027-01-31", ["a reason"])
    releases = load_all(dataset.directory)
    assert releases.versions == ("1.10.0", "1.2.0", "1.0.0")
    assert releases.newest.stamp.version == "1.10.0"
    amounts = {version: releases.get(version).tables["limits"][0].amount for version in releases.versions}
    assert amounts == {"1.10.0": 9000, "1.2.0": 9000, "1.0.0": 8000}
    with pytest.raises(UnknownVersion, match=r"1\.1\.0"):
        releases.get("1.1.0")
    with pytest.raises(UnknownVersion, match=r"\.\./1\.0\.0"):
        releases.files("../1.0.0")


def test_files_of_a_release_for_downloads(dataset: SmallDataset, frozen: Path) -> None:
    files = load_all(dataset.directory).files("1.0.0")
    assert list(files) == sorted(files)
    assert files["tables/limits.csv"] == dataset.path("limits").read_bytes()
    assert {"README.md", "SHA256SUMS", FILE} <= set(files)


def test_one_defective_release_stops_all(dataset: SmallDataset, frozen: Path) -> None:
    release(dataset.directory, "1.0.1", "2027-01-31", ["a reason"])
    _rewrite(frozen, "limits", b"beta2002", b"nobody")
    with pytest.raises(DefectiveRelease, match=r"release 1\.0\.0: limits glucosamine-rat"):
        load_all(dataset.directory)


def test_without_a_release_nothing_is_served(dataset: SmallDataset) -> None:
    with pytest.raises(DefectiveRelease, match="no release lies in releases"):
        load_all(dataset.directory)


def test_an_unfinished_release_is_no_release(dataset: SmallDataset, frozen: Path) -> None:
    shutil.copytree(frozen, frozen.parent / ".unfinished-x" / "1.0.1")
    assert load_all(dataset.directory).versions == ("1.0.0",)


def test_the_working_tables_load_without_hashes(dataset: SmallDataset) -> None:
    dataset.replace("tables/limits.csv", b"8000", b"9000")
    assert load_working_tables(dataset.directory).tables["limits"][0].amount == 9000


def test_a_checkout_uses_the_dataset_beside_the_code() -> None:
    assert dataset_directory() == DATASET
