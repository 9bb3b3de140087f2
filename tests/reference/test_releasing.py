"""A release is refused with its reason, or frozen whole; the least version follows from what changed."""

from __future__ import annotations

import hashlib
import io
import subprocess
import zipfile
from collections.abc import Callable
from pathlib import Path

import pandas as pd
import pytest

from service.reference import auditing, releasing
from service.reference.archiving import archive
from service.reference.auditing import audit
from service.reference.descriptor import load_descriptor
from service.reference.differences import ChangedCell, differences, least_bump, next_version, read_frames
from service.reference.loading import TABLES
from service.reference.releases import load_release
from service.reference.releasing import ReleaseRefused, release
from tests.reference.small_dataset import SmallDataset

DAY = "2026-11-25"
LATER = "2027-01-31"
Spoil = Callable[[SmallDataset], object]
Frames = dict[str, pd.DataFrame]


@pytest.fixture(autouse=True)
def _own_checks_only(monkeypatch: pytest.MonkeyPatch) -> None:
    """Leave the slow opinion from outside to the tests of the audit."""
    monkeypatch.setattr(auditing, "find_spec", lambda name: None)


def _first(dataset: SmallDataset) -> Path:
    return release(dataset.directory, "1.0.0", DAY)


def _change_log(dataset: SmallDataset) -> str:
    return (dataset.directory / "CHANGELOG.md").read_text("utf-8")


# --- what a release holds


def test_the_first_release_holds_everything_and_loads(dataset: SmallDataset) -> None:
    root = _first(dataset)
    assert root == dataset.directory / "releases" / "1.0.0"
    documents = {"datapackage.json", "README.md", "LICENSE", "CITATION.cff", "CHANGELOG.md", "SHA256SUMS"}
    found = {path.relative_to(root).as_posix() for path in root.rglob("*") if path.is_file()}
    assert found == documents | {f"tables/{table}.csv" for table in TABLES}
    stamp = load_release(root).stamp
    assert (stamp.version, stamp.released) == ("1.0.0", DAY)
    for table in TABLES:
        assert (root / "tables" / f"{table}.csv").read_bytes() == dataset.path(table).read_bytes()


def test_version_and_day_stand_in_every_place(dataset: SmallDataset) -> None:
    root = release(dataset.directory, "3.1.4", LATER)
    for directory in (root, dataset.directory):
        descriptor = load_descriptor(directory)
        assert (descriptor["version"], descriptor["released"]) == ("3.1.4", LATER)
        citation = (directory / "CITATION.cff").read_text("utf-8")
        assert "\nversion: 3.1.4\n" in citation
        assert f'\ndate-released: "{LATER}"\n' in citation
        assert f"## 3.1.4 ({LATER})" in (directory / "CHANGELOG.md").read_text("utf-8")


def test_the_working_copy_has_no_defect_after_a_release(dataset: SmallDataset) -> None:
    _first(dataset)
    assert audit(dataset.directory) == []
    assert list((dataset.directory / "releases").iterdir()) == [dataset.directory / "releases" / "1.0.0"]


def test_the_sums_are_those_that_sha256sum_checks(dataset: SmallDataset) -> None:
    root = _first(dataset)
    lines = (root / "SHA256SUMS").read_text("utf-8").splitlines()
    assert lines == sorted(lines, key=lambda line: line.split("  ")[1])
    assert len(lines) == len(TABLES) + 5
    for line in lines:
        digest, path = line.split("  ")
        assert hashlib.sha256((root / path).read_bytes()).hexdigest() == digest
    checked = subprocess.run(["sha256sum", "--check", "--strict", "SHA256SUMS"], cwd=root, capture_output=True)  # noqa: S607
    assert checked.returncode == 0


# --- what is refused


@pytest.mark.parametrize("version", ["1", "1.0", "1.0.0.0", "v1.0.0", "01.0.0", "1.0.0-rc1", "", "1.0.0\n", "../1.0.0"])
def test_what_is_not_a_version(dataset: SmallDataset, version: str) -> None:
    with pytest.raises(ReleaseRefused, match="is not a version"):
        release(dataset.directory, version, DAY)


@pytest.mark.parametrize("day", ["25.11.2026", "2026-13-01", "today", ""])
def test_what_is_not_a_day(dataset: SmallDataset, day: str) -> None:
    with pytest.raises(ReleaseRefused, match="is not a date"):
        release(dataset.directory, "1.0.0", day)


def test_defects_stand_in_the_way(dataset: SmallDataset) -> None:
    dataset.set("limits", 0, amount="NaN")
    with pytest.raises(ReleaseRefused, match="the dataset has defects: limits line 2, amount: 'NaN' is not a finite"):
        _first(dataset)
    assert not (dataset.directory / "releases").exists()


def test_many_defects_are_counted_not_all_named(dataset: SmallDataset) -> None:
    dataset.write("units", [dataset.rows("units")[0] | {"alias": f"u{number}", "factor": "x"} for number in range(30)])
    with pytest.raises(ReleaseRefused, match=r"line 21, factor: .*; and 10 more$"):
        _first(dataset)


def test_what_the_service_would_not_load_is_not_released(
    dataset: SmallDataset, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(releasing, "audit", lambda directory: [])
    dataset.replace("tables/limits.csv", b"8000", b"9000")
    with pytest.raises(ReleaseRefused, match=r"would not load it: .* tables/limits\.csv is not the file"):
        _first(dataset)
    assert list((dataset.directory / "releases").iterdir()) == []


def test_a_released_version_is_never_changed(dataset: SmallDataset) -> None:
    _first(dataset)
    with pytest.raises(ReleaseRefused, match=r"1\.0\.0 was released and is never changed"):
        _first(dataset)


def test_a_release_whose_bytes_changed_stands_in_the_way(dataset: SmallDataset) -> None:
    _first(dataset)
    dataset.replace("releases/1.0.0/tables/limits.csv", b"8000", b"9000")
    with pytest.raises(ReleaseRefused, match=r"tables/limits\.csv is not the file that was released"):
        release(dataset.directory, "2.0.0", LATER, ["a reason"])


@pytest.mark.parametrize(
    ("spoil", "message"),
    [
        (lambda root: (root / "README.md").unlink(), "release 1.0.0: README.md is missing"),
        (lambda root: (root / "extra.txt").write_text("x"), "release 1.0.0: extra.txt was not released"),
        (lambda root: (root / "SHA256SUMS").unlink(), "release 1.0.0: SHA256SUMS is missing"),
        (lambda root: (root / "LICENSE").write_text("mine"), "release 1.0.0: LICENSE is not the file that was"),
        (lambda root: (root / "datapackage.json").write_text("{}"), "release 1.0.0: 'resources'"),
    ],
)
def test_every_touched_file_of_a_release_is_found(
    dataset: SmallDataset, spoil: Callable[[Path], object], message: str
) -> None:
    spoil(_first(dataset))
    assert any(message in defect for defect in audit(dataset.directory))


def test_a_later_release_says_why(dataset: SmallDataset) -> None:
    _first(dataset)
    dataset.set("limits", 0, amount="9000")
    with pytest.raises(ReleaseRefused, match="say why: give notes"):
        release(dataset.directory, "1.0.1", LATER)
    assert "1.0.1" not in _change_log(dataset)
    assert not (dataset.directory / "releases" / "1.0.1").exists()


def test_a_section_of_another_day_is_refused(dataset: SmallDataset) -> None:
    dataset.replace("CHANGELOG.md", b"first.\n", b"first.\n\n## 1.0.0 (2020-01-01)\n")
    with pytest.raises(ReleaseRefused, match=r"CHANGELOG\.md dates 1\.0\.0 2020-01-01, not 2026-11-25"):
        _first(dataset)


# --- the least version


def _add_column(frames: Frames) -> None:
    frames["limits"]["colour"] = ""


def _drop_column(frames: Frames) -> None:
    del frames["limits"]["note"]


def _rename_column(frames: Frames) -> None:
    frames["limits"] = frames["limits"].rename(columns={"note": "remark"})


def _order_columns(frames: Frames) -> None:
    frames["limits"] = frames["limits"][list(frames["limits"].columns[::-1])]


def _rename_key(frames: Frames) -> None:
    frames["units"] = frames["units"].rename(columns={"alias": "spelling"})


def _drop_table(frames: Frames) -> None:
    del frames["beliefs"]


def _change_rule(frames: Frames) -> None:
    frames["guidance"].loc[0, "rule_id"] = "another-rule"


def _add_row(frames: Frames) -> None:
    row = frames["limits"].iloc[[0]].assign(id="another")
    frames["limits"] = pd.concat([frames["limits"], row], ignore_index=True)


def _withdraw_row(frames: Frames) -> None:
    frames["units"] = frames["units"].iloc[1:]


def _rename_row(frames: Frames) -> None:
    frames["names"].loc[1, "target_id"] = "sorbitol"


def _change_cell(frames: Frames) -> None:
    frames["limits"].loc[0, "amount"] = "8000.0"


def _fill_cell(frames: Frames) -> None:
    frames["limits"].loc[0, "note"] = "NA"


def _add_row_and_change_cell(frames: Frames) -> None:
    _change_cell(frames)
    _add_row(frames)


def _order_rows(frames: Frames) -> None:
    frames["names"] = frames["names"].iloc[::-1]


@pytest.mark.parametrize(
    ("change", "bump"),
    [
        (_add_column, "major"),
        (_drop_column, "major"),
        (_rename_column, "major"),
        (_order_columns, "major"),
        (_rename_key, "major"),
        (_drop_table, "major"),
        (_change_rule, "major"),
        (_add_row, "minor"),
        (_withdraw_row, "minor"),
        (_rename_row, "minor"),
        (_add_row_and_change_cell, "minor"),
        (_change_cell, "patch"),
        (_fill_cell, "patch"),
        (_order_rows, "none"),
        (lambda frames: None, "none"),
    ],
)
def test_the_least_bump(dataset: SmallDataset, change: Callable[[Frames], object], bump: str) -> None:
    old, new = read_frames(dataset.directory), read_frames(dataset.directory)
    change(new)
    assert least_bump(old, new) == bump


def test_a_new_table_is_minor(dataset: SmallDataset) -> None:
    old, new = read_frames(dataset.directory), read_frames(dataset.directory)
    del old["beliefs"]
    assert least_bump(old, new) == "minor"


def test_cells_are_compared_as_text(dataset: SmallDataset) -> None:
    frames = read_frames(dataset.directory)
    assert frames["forms"].loc[0, "share_low"] == "1"
    assert frames["limits"].loc[0, "note"] == ""
    new = read_frames(dataset.directory)
    _fill_cell(new)
    (difference,) = differences(frames, new)
    assert difference.cells == (ChangedCell("glucosamine-rat", "note", "", "NA", "beta2002"),)


def test_a_changed_source_is_its_own_source(dataset: SmallDataset) -> None:
    old, new = read_frames(dataset.directory), read_frames(dataset.directory)
    new["sources"].loc[4, "year"] = "2002"
    (difference,) = differences(old, new)
    assert difference.cells == (ChangedCell("alpha2001", "year", "2001", "2002", "alpha2001"),)


@pytest.mark.parametrize(
    ("version", "bump", "least"),
    [
        ("1.2.3", "major", "2.0.0"),
        ("1.2.3", "minor", "1.3.0"),
        ("1.2.3", "patch", "1.2.4"),
        ("1.2.3", "none", "1.2.4"),
        ("1.9.9", "minor", "1.10.0"),
    ],
)
def test_the_next_version(version: str, bump: str, least: str) -> None:
    assert next_version(version, bump) == least  # type: ignore[arg-type]


def _corrected(dataset: SmallDataset) -> None:
    dataset.set("limits", 0, amount="9000")


def _extended(dataset: SmallDataset) -> None:
    dataset.add("limits", 0, id="another")


def _reruled(dataset: SmallDataset) -> None:
    dataset.set("guidance", 0, rule_id="customary-per-kg", regimen_ids="d028", at_weight_kg="1")
    dataset.add("regimens", 1, id="d028", weight_from_kg="", weight_to_kg="", basis="per_kg_per_day", amount_low="500")


@pytest.mark.parametrize(
    ("change", "version", "message"),
    [
        (_corrected, "0.9.0", r"0\.9\.0 is too low: the changes since 1\.0\.0 are patch, at least 1\.0\.1"),
        (_extended, "1.0.1", r"1\.0\.1 is too low: the changes since 1\.0\.0 are minor, at least 1\.1\.0"),
        (_reruled, "1.1.0", r"1\.1\.0 is too low: the changes since 1\.0\.0 are major, at least 2\.0\.0"),
        (lambda dataset: None, "0.0.1", r"0\.0\.1 is too low: the changes since 1\.0\.0 are none, at least 1\.0\.1"),
    ],
)
def test_a_version_that_is_too_low(dataset: SmallDataset, change: Spoil, version: str, message: str) -> None:
    _first(dataset)
    change(dataset)
    with pytest.raises(ReleaseRefused, match=message):
        release(dataset.directory, version, LATER, ["a reason"])


@pytest.mark.parametrize(
    ("change", "version"),
    [(_corrected, "1.0.1"), (_corrected, "1.1.0"), (_extended, "1.1.0"), (_reruled, "2.0.0")],
)
def test_a_version_that_is_high_enough(dataset: SmallDataset, change: Spoil, version: str) -> None:
    _first(dataset)
    change(dataset)
    assert release(dataset.directory, version, LATER, ["a reason"]).name == version
    assert audit(dataset.directory) == []


# --- the change log


def test_the_change_log_lists_reasons_rows_and_cells(dataset: SmallDataset) -> None:
    _first(dataset)
    dataset.set("limits", 0, amount="9000", note='said "nine"')
    dataset.add("units", 0, alias="milligram")
    dataset.drop("names", 2)
    release(dataset.directory, "1.1.0", LATER, ["The page prints 9000.", "Spelt out."])
    assert (
        _change_log(dataset)
        == f"""# Changes

The newest release stands first.

## 1.1.0 ({LATER})

- The page prints 9000.
- Spelt out.
- `names`: 1 rows withdrawn: birch leaf + none +  + phrase
- `limits` glucosamine-rat, `amount`: "8000" became "9000" (source beta2002)
- `limits` glucosamine-rat, `note`: empty became "said \\"nine\\"" (source beta2002)
- `units`: 1 rows added: milligram

## 1.0.0 ({DAY})
"""
    )


def test_a_section_written_by_hand_is_kept_and_completed(dataset: SmallDataset) -> None:
    _first(dataset)
    dataset.replace("CHANGELOG.md", b"## 1.0.0", f"## 1.0.1 ({LATER})\n\nA correction.\n\n## 1.0.0".encode())
    dataset.set("limits", 0, amount="9000")
    release(dataset.directory, "1.0.1", LATER)
    cell = '- `limits` glucosamine-rat, `amount`: "8000" became "9000" (source beta2002)'
    assert f"A correction.\n{cell}\n\n## 1.0.0 ({DAY})" in _change_log(dataset)


def test_the_first_release_keeps_the_section_that_describes_it(dataset: SmallDataset) -> None:
    dataset.replace("CHANGELOG.md", b"first.\n", f"first.\n\n## 1.0.0 ({DAY})\n\nFirst release.\n".encode())
    before = _change_log(dataset)
    _first(dataset)
    assert _change_log(dataset) == before


# --- the archive


def test_the_archive_depends_on_names_and_bytes_alone() -> None:
    files = {"tables/b.csv": b"x\n" * 1000, "a.txt": "Größe".encode()}
    packed = archive(files)
    assert packed == archive(dict(reversed(files.items())))
    with zipfile.ZipFile(io.BytesIO(packed)) as opened:
        assert opened.testzip() is None
        assert opened.namelist() == ["a.txt", "tables/b.csv"]
        assert {name: opened.read(name) for name in opened.namelist()} == files
        assert {entry.date_time for entry in opened.infolist()} == {(1980, 1, 1, 0, 0, 0)}
        assert {entry.external_attr >> 16 for entry in opened.infolist()} == {0o100644}
    assert len(packed) < 1000


def test_another_byte_makes_another_archive() -> None:
    assert archive({"a": b"1"}) != archive({"a": b"2"})
