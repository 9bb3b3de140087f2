"""Freezing the working tables as a release: ``releases/<version>`` with everything that a reader needs.

A release is written once. What it needs of the working copy (version, dates, change log) is written there too, so that
the working copy is that release until the next change.
"""

from __future__ import annotations

import json
import re
import shutil
import tempfile
from collections.abc import Sequence
from datetime import date
from pathlib import Path
from typing import NamedTuple

from service.reference.audit_releases import SUMS, VERSION, frozen_versions, sums_of
from service.reference.auditing import DOCUMENTS, audit
from service.reference.descriptor import FILE, dump_descriptor, load_descriptor
from service.reference.differences import TableDifference, differences, least_bump, next_version, read_frames
from service.reference.loading import TABLES
from service.reference.releases import DefectiveRelease, load_release

_MOST_DEFECTS_NAMED = 20
_SECTION = re.compile(r"^## (?P<version>[0-9.]+) \((?P<date>[0-9-]+)\)$", re.MULTILINE)


class ReleaseRefused(ValueError):
    """The working copy may not be released like this; the message says why."""


class Reasons(NamedTuple):
    """Lines for the change log: why, as told, and what, as found."""

    notes: tuple[str, ...]
    changes: tuple[str, ...]


def release(directory: Path, version: str, released: str, notes: Sequence[str] = ()) -> Path:
    """Freeze the working copy.

    Parameters
    ----------
    directory
        Dataset with ``datapackage.json``, ``tables`` and the documents.
    version
        Version to give it.
    released
        Day of release, ``YYYY-MM-DD``.
    notes
        Reasons for the changes, one line each; needed for every release after the first unless the change log
        already has a section of this version.

    Returns
    -------
    pathlib.Path
        Directory of the release.

    Raises
    ------
    ReleaseRefused
        If version or date cannot be, the dataset has defects, or the version is too low for what changed.
    """
    earlier = frozen_versions(directory)
    _check_request(version, released, earlier)
    defects = audit(directory)
    if defects:
        more = len(defects) - _MOST_DEFECTS_NAMED
        rest = (f"and {more} more",) if more > 0 else ()
        raise ReleaseRefused("the dataset has defects: " + "; ".join((*defects[:_MOST_DEFECTS_NAMED], *rest)))
    changes = _changes_since(directory, version, earlier)
    working = {
        FILE: _descriptor(directory, version, released),
        "CITATION.cff": _citation(directory, version, released),
        "CHANGELOG.md": _change_log(directory, version, released, _reasons(notes, changes), needed=bool(earlier)),
    }
    files = {name: (directory / name).read_bytes() for name in DOCUMENTS} | working
    files |= {f"tables/{table}.csv": (directory / "tables" / f"{table}.csv").read_bytes() for table in TABLES}
    target = _write(directory, version, {**files, SUMS: sums_of(files)})
    for name, data in working.items():
        (directory / name).write_bytes(data)
    return target


def _check_request(version: str, released: str, earlier: Sequence[str]) -> None:
    if not VERSION.fullmatch(version):
        raise ReleaseRefused(f"{version!r} is not a version such as 1.1.0")
    try:
        date.fromisoformat(released)
    except ValueError:
        raise ReleaseRefused(f"{released!r} is not a date such as 2026-11-25") from None
    if version in earlier:
        raise ReleaseRefused(f"{version} was released and is never changed")


def _changes_since(directory: Path, version: str, earlier: Sequence[str]) -> tuple[TableDifference, ...]:
    """Differences to the last release, once the version is known to be high enough for them."""
    if not earlier:
        return ()
    old, new = read_frames(directory / "releases" / earlier[-1]), read_frames(directory)
    bump = least_bump(old, new)
    least = next_version(earlier[-1], bump)
    if _ordered(version) < _ordered(least):
        raise ReleaseRefused(f"{version} is too low: the changes since {earlier[-1]} are {bump}, at least {least}")
    return differences(old, new)


def _ordered(version: str) -> tuple[int, ...]:
    return tuple(map(int, version.split(".")))


def _descriptor(directory: Path, version: str, released: str) -> bytes:
    descriptor = load_descriptor(directory)
    descriptor.update(version=version, released=released)
    return dump_descriptor(descriptor)


def _citation(directory: Path, version: str, released: str) -> bytes:
    text = (directory / "CITATION.cff").read_text("utf-8")
    text = re.sub(r"^version:.*$", f"version: {version}", text, flags=re.MULTILINE)
    return re.sub(r"^date-released:.*$", f'date-released: "{released}"', text, flags=re.MULTILINE).encode()


def _reasons(notes: Sequence[str], changes: Sequence[TableDifference]) -> Reasons:
    return Reasons(tuple(f"- {note}" for note in notes), tuple(line for change in changes for line in _lines(change)))


def _change_log(directory: Path, version: str, released: str, lines: Reasons, *, needed: bool) -> bytes:
    text = (directory / "CHANGELOG.md").read_text("utf-8")
    written = {found["version"]: found["date"] for found in _SECTION.finditer(text)}
    if written.get(version, released) != released:
        raise ReleaseRefused(f"CHANGELOG.md dates {version} {written[version]}, not {released}")
    if version not in written:
        if needed and not lines.notes:
            raise ReleaseRefused(f"say why: give notes, or write the section {version} of CHANGELOG.md")
        text = _with_section(text, f"## {version} ({released})\n")
    return _with_lines(text, version, (*lines.notes, *lines.changes)).encode()


def _with_section(text: str, heading: str) -> str:
    """Put a new section before the newest one."""
    newest = _SECTION.search(text)
    at = newest.start() if newest else len(text)
    return f"{text[:at]}{heading}\n{text[at:]}" if newest else f"{text.rstrip()}\n\n{heading}"


def _with_lines(text: str, version: str, lines: Sequence[str]) -> str:
    """Add lines at the end of the section of a version."""
    sections = list(_SECTION.finditer(text))
    at = next(number for number, found in enumerate(sections) if found["version"] == version)
    end = sections[at + 1].start() if at + 1 < len(sections) else len(text)
    if not lines:
        return text
    before, after = text[:end].rstrip("\n"), text[end:]
    if before == text[: sections[at].end()].rstrip("\n"):
        before += "\n"
    return "\n".join((before, *lines)) + "\n" + (f"\n{after}" if after else "")


def _lines(change: TableDifference) -> list[str]:
    lines = [f"- `{change.table}`: columns changed"] if change.columns_changed else []
    if change.added:
        lines.append(f"- `{change.table}`: {len(change.added)} rows added: {', '.join(change.added)}")
    if change.withdrawn:
        lines.append(f"- `{change.table}`: {len(change.withdrawn)} rows withdrawn: {', '.join(change.withdrawn)}")
    for cell in change.cells:
        old, new = (json.dumps(text, ensure_ascii=False) if text else "empty" for text in (cell.old, cell.new))
        lines.append(f"- `{change.table}` {cell.row}, `{cell.column}`: {old} became {new} (source {cell.source_id})")
    return lines


def _write(directory: Path, version: str, files: dict[str, bytes]) -> Path:
    """Write a release beside its place, load it as the service does, and only then move it there."""
    root = directory / "releases"
    root.mkdir(exist_ok=True)
    workshop = Path(tempfile.mkdtemp(prefix=".unfinished-", dir=root))
    try:
        for path, data in files.items():
            place = workshop / version / path
            place.parent.mkdir(parents=True, exist_ok=True)
            place.write_bytes(data)
        try:
            load_release(workshop / version)
        except DefectiveRelease as error:
            raise ReleaseRefused(f"the service would not load it: {error}") from error
        return (workshop / version).rename(root / version)
    finally:
        shutil.rmtree(workshop)
