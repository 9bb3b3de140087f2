"""Build the wheel, install it in an environment of its own elsewhere, and compare its answers with the checkout's.

    python -m tests.packaging.wheel_check

Takes a minute; the everyday tests do the same with the unpacked wheel and without an installation.
"""

from __future__ import annotations

import os
import subprocess
import sys
import tempfile
import venv
from pathlib import Path

from service.cli.child import serving
from tests.packaging.questions import differences, failures, questions

_TOP = Path(__file__).parents[2]


def build_wheel(folder: Path) -> Path:
    """Build the wheel of the checkout into a folder."""
    subprocess.run([sys.executable, "-m", "hatchling", "build", "-t", "wheel", "-d", str(folder)], cwd=_TOP, check=True)
    (wheel,) = folder.glob("*.whl")
    return wheel


def install(wheel: Path, folder: Path) -> Path:
    """Install the wheel with the pinned dependencies into a new environment; return its Python."""
    venv.create(folder, with_pip=True)
    python = folder / "bin" / "python"
    pins = _TOP / "docker" / "constraints.txt"
    subprocess.run([python, "-m", "pip", "install", "--quiet", "--constraint", pins, wheel], check=True)
    return python


def main() -> int:
    """Run the check; 0 if both give the same answers."""
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        python = install(build_wheel(folder / "dist"), folder / "elsewhere")
        surroundings = {key: value for key, value in os.environ.items() if key != "PYTHONPATH"}
        with (
            serving() as checkout,
            serving(python=str(python), folder=name, environment=surroundings) as installed,
        ):
            faults = failures(installed.url) + differences(checkout.url, installed.url)
    for fault in faults:
        print(fault)
    print(f"{len(questions())} questions, {len(faults)} faults")
    return 1 if faults else 0


if __name__ == "__main__":
    sys.exit(main())
