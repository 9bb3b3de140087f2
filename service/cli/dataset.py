"""``fabella dataset``: check the reference data, freeze a release, list releases."""

from __future__ import annotations

import sys
from datetime import UTC, date, datetime
from pathlib import Path

import service


def _folder(path: str | None) -> Path | None:
    """Return the dataset folder asked for, or the one beside the sources; ``None`` (and a message) if there is none."""
    folder = Path(path) if path else Path(service.__file__).parents[1] / "dataset"
    if folder.is_dir():
        return folder
    print(f"fabella: there is no dataset folder {folder}; name one.", file=sys.stderr)
    return None


def check(path: str | None) -> int:
    """Print every defect of the dataset; 0 if there is none."""
    folder = _folder(path)
    if folder is None:
        return 2
    try:
        import frictionless  # noqa: F401
    except ImportError:
        print("fabella: the dataset check needs frictionless: pip install 'fabella[dev]'", file=sys.stderr)
        return 2
    from service.reference.checking import check as defects_of

    defects = defects_of(folder)
    for defect in defects:
        print(defect)
    print(f"{folder}: " + (f"{len(defects)} defects" if defects else "no defects"))
    return 1 if defects else 0


def release(path: str | None, version: str, released: date | None) -> int:
    """Freeze the working tables as a release and print where it is."""
    folder = _folder(path)
    if folder is None:
        return 2
    from service.reference.releasing import release as freeze

    try:
        frozen = freeze(folder, version, released or datetime.now(UTC).date())
    except ValueError as error:
        print(f"fabella: {error}", file=sys.stderr)
        return 1
    print(f"released {version}: {frozen}")
    return 0
