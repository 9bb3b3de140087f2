"""matplotlib is loaded late, once, and leaves nothing behind."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest

_DRAW = """
import sys
from service import create_app
client = create_app().test_client()
client.get("/v1/dose?species=dog&weight=34kg&ingredient=glucosamine")
assert "matplotlib" not in sys.modules and "numpy" not in sys.modules, "a worker is to stay light"
answer = client.get("/charts/amount.svg?species=dog&ingredient=glucosamine")
assert answer.status_code == 200, answer.get_data(as_text=True)
assert "matplotlib.pyplot" not in sys.modules
import hashlib
print(hashlib.sha256(answer.data).hexdigest())
"""


def _run(folder: Path, **variables: str) -> subprocess.CompletedProcess[str]:
    surroundings = {name: os.environ[name] for name in ("PATH", "LD_LIBRARY_PATH") if name in os.environ}
    top = Path(__file__).parents[3]
    return subprocess.run(
        [sys.executable, "-W", "error::UserWarning", "-c", _DRAW],
        cwd=folder,
        env={**surroundings, "PYTHONPATH": str(top), "PYTHONDONTWRITEBYTECODE": "1", **variables},
        capture_output=True,
        text=True,
        check=False,
    )


@pytest.fixture(scope="module")
def ordinary(tmp_path_factory: pytest.TempPathFactory) -> subprocess.CompletedProcess[str]:
    """Draw with a home directory of one's own."""
    home = tmp_path_factory.mktemp("home")
    result = _run(home, HOME=str(home), TMPDIR=str(home))
    assert list(home.iterdir()) == []
    return result


def test_drawing_writes_no_file_and_no_word(ordinary: subprocess.CompletedProcess[str]) -> None:
    assert ordinary.returncode == 0, ordinary.stderr
    assert len(ordinary.stdout.strip()) == 64
    assert ordinary.stderr == ""


def test_drawing_needs_no_home_and_no_folder_to_write_to(
    ordinary: subprocess.CompletedProcess[str], tmp_path: Path
) -> None:
    none = "/nonexistent"
    result = _run(tmp_path, HOME=none, TMPDIR=none, XDG_CACHE_HOME=none, XDG_CONFIG_HOME=none, MPLCONFIGDIR=none)
    assert (result.returncode, result.stdout, result.stderr) == (0, ordinary.stdout, "")


def test_settings_of_the_machine_change_nothing(ordinary: subprocess.CompletedProcess[str], tmp_path: Path) -> None:
    # A file of that name in the working directory is matplotlib's first choice.
    (tmp_path / "matplotlibrc").write_text("lines.antialiased: False\naxes.grid: True\nsvg.fonttype: path\n", "utf-8")
    result = _run(tmp_path, HOME=str(tmp_path), SOURCE_DATE_EPOCH="0", MPLBACKEND="svg")
    assert (result.returncode, result.stdout) == (0, ordinary.stdout)
    assert [path.name for path in tmp_path.iterdir()] == ["matplotlibrc"]
