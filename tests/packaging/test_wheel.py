"""The wheel holds what serving needs, and answers as the checkout does."""

from __future__ import annotations

import os
import subprocess
import sys
import zipfile
from pathlib import Path

import pytest

from service.cli.child import serving
from service.version import VERSION
from tests.packaging.questions import differences, failures
from tests.packaging.wheel_check import build_wheel

pytest.importorskip("hatchling", reason="building the wheel needs hatchling")


@pytest.fixture(scope="module")
def wheel(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Build the wheel once."""
    return build_wheel(tmp_path_factory.mktemp("dist"))


@pytest.fixture(scope="module")
def unpacked(wheel: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Unpack it as an installation would."""
    folder = tmp_path_factory.mktemp("unpacked")
    with zipfile.ZipFile(wheel) as archive:
        archive.extractall(folder)
    return folder


def test_wheel_holds_code_releases_and_openapi_document(wheel: Path) -> None:
    names = zipfile.ZipFile(wheel).namelist()
    assert "service/_openapi/openapi.json" in names
    assert "service/_dataset/LICENSE" in names
    assert "service/_dataset/CITATION.cff" in names
    assert "service/_dataset/releases/1.0.0/datapackage.json" in names
    assert "service/demo/scenario.json" in names
    assert any(name.startswith("service/pages/templates/") for name in names)


def test_wheel_leaves_working_tables_and_tests_out(wheel: Path) -> None:
    names = zipfile.ZipFile(wheel).namelist()
    top = {name.split("/")[0] for name in names}
    assert top == {"service", f"fabella-{VERSION}.dist-info"}
    assert not [name for name in names if name.startswith("service/_dataset/tables")]


def test_wheel_serves_the_same_answers_as_the_checkout(unpacked: Path, tmp_path: Path) -> None:
    surroundings = {**os.environ, "PYTHONPATH": str(unpacked)}
    where = subprocess.run(
        [sys.executable, "-P", "-c", "import service; print(service.__file__)"],
        env=surroundings,
        cwd=tmp_path,
        check=True,
        capture_output=True,
        text=True,
    )
    assert where.stdout.startswith(str(unpacked))
    with serving() as checkout, serving(folder=str(tmp_path), environment=surroundings) as installed:
        assert failures(installed.url) == []
        assert differences(checkout.url, installed.url) == []
