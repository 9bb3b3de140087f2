"""``fabella dataset``: check the reference data, refresh its hashes, freeze a release, list releases."""

from __future__ import annotations

import sys
from collections.abc import Sequence
from datetime import UTC, date, datetime
from pathlib import Path

from service.cli.text_table import table
from service.reference.releases import DefectiveRelease, dataset_directory, load_all


def _folder(path: str | None) -> Path | None:
    """Return the dataset folder asked for, or this installation's; ``None`` (and a message) if there is none."""
    folder = Path(path) if path else dataset_directory()
    if folder.is_dir():
        return folder
    print(f"fabella: there is no dataset folder {folder}; name one.", file=sys.stderr)
    return None


def check(path: str | None) -> int:
    """Print every defect of the dataset; 0 if there is none."""
    folder = _folder(path)
    if folder is None:
        return 2
    from service.reference import auditing

    defects = auditing.audit(folder)
    for defect in defects:
        print(defect)
    for omission in auditing.skipped():
        print(f"fabella: {omission}; it comes with pip install 'fabella[dev]'", file=sys.stderr)
    print(f"{folder}: " + (f"{len(defects)} found" if defects else "no defects"))
    return 1 if defects else 0


def refresh(path: str | None) -> int:
    """Bring bytes, hashes and examples of the descriptor up to date and name the tables that had changed."""
    folder = _folder(path)
    if folder is None:
        return 2
    from service.reference import auditing

    try:
        changed = auditing.refresh(folder)
    except (OSError, ValueError) as error:
        print(f"fabella: {error}", file=sys.stderr)
        return 1
    print(f"{folder}: " + (f"refreshed {', '.join(changed)}" if changed else "nothing had changed"))
    return 0


def release(path: str | None, version: str, released: date | None, notes: Sequence[str]) -> int:
    """Freeze the working tables as a release and print where it is."""
    folder = _folder(path)
    if folder is None:
        return 2
    try:
        from service.reference import releasing
    except ImportError as error:
        print(f"fabella: a release needs {error.name}; it comes with pip install 'fabella[dev]'", file=sys.stderr)
        return 2

    day = (released or datetime.now(UTC).date()).isoformat()
    try:
        frozen = releasing.release(folder, version, day, notes)
    except ValueError as error:
        print(f"fabella: {error}", file=sys.stderr)
        return 1
    print(f"released {version}: {frozen}")
    return 0


def list_releases() -> int:
    """Print the verified releases that this installation answers from, newest first."""
    try:
        releases = load_all()
    except DefectiveRelease as error:
        print(f"fabella: {error}", file=sys.stderr)
        return 1
    stamps = [reference.stamp for reference in releases.references.values()]
    rows = [(stamp.version, stamp.released, stamp.sha256) for stamp in stamps]
    print(table(("version", "released", "sha256 of the descriptor"), rows, indent=""))
    return 0
