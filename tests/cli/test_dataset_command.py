"""``fabella dataset``: messages and statuses; what is checked and frozen has tests of its own."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

import pytest

from service.cli import main
from service.reference import auditing, releasing


def test_the_dataset_of_this_checkout_has_no_defect(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["dataset", "check"]) == 0
    assert "no defects" in capsys.readouterr().out


def test_defects_are_named_and_make_the_status_1(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setattr(auditing, "audit", lambda path: [f"{path.name}: a defect"])
    assert main(["dataset", "check", str(tmp_path)]) == 1
    assert f"{tmp_path.name}: a defect" in capsys.readouterr().out


def test_a_folder_that_does_not_exist_is_reported(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    assert main(["dataset", "check", str(tmp_path / "none")]) == 2
    assert main(["dataset", "release", "1.0.0", "--path", str(tmp_path / "none")]) == 2
    assert "no dataset folder" in capsys.readouterr().err


def test_release_passes_version_and_date_on(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    seen: list[object] = []

    def freeze(path: Path, version: str, released: str, notes: Sequence[str]) -> Path:
        seen.extend((path, version, released, notes))
        return path / "releases" / version

    monkeypatch.setattr(releasing, "release", freeze)
    arguments = ["dataset", "release", "9.0.0", "--path", str(tmp_path), "--released", "2026-01-02"]
    assert main([*arguments, "--note", "one", "--note", "two"]) == 0
    assert seen == [tmp_path, "9.0.0", "2026-01-02", ["one", "two"]]
    assert "released 9.0.0" in capsys.readouterr().out


def test_a_refused_release_says_why_and_makes_the_status_1(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    def refuse(*_: object) -> Path:
        raise releasing.ReleaseRefused("1.0.0 was released and is never changed")

    monkeypatch.setattr(releasing, "release", refuse)
    assert main(["dataset", "release", "1.0.0", "--path", str(tmp_path)]) == 1
    assert "never changed" in capsys.readouterr().err


def test_refresh_names_the_tables_that_had_changed(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setattr(auditing, "refresh", lambda path: ("forms", "names"))
    assert main(["dataset", "refresh", str(tmp_path)]) == 0
    assert "refreshed forms, names" in capsys.readouterr().out


def test_refresh_without_a_descriptor_is_reported(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["dataset", "refresh", str(tmp_path)]) == 1
    assert "datapackage.json" in capsys.readouterr().err


def test_a_check_that_was_skipped_is_said(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setattr(auditing, "audit", lambda path: [])
    monkeypatch.setattr(auditing, "skipped", lambda: ("something was skipped",))
    assert main(["dataset", "check", str(tmp_path)]) == 0
    assert "something was skipped" in capsys.readouterr().err


def test_list_names_the_releases(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["dataset", "list"]) == 0
    assert "1.0.0" in capsys.readouterr().out
