"""Whether the frozen releases are still the files that were released."""

from __future__ import annotations

import hashlib
import re
from collections.abc import Iterator, Mapping
from pathlib import Path

from service.reference.releases import DefectiveRelease, load_release

SUMS = "SHA256SUMS"
VERSION = re.compile(r"(?:0|[1-9][0-9]*)(?:\.(?:0|[1-9][0-9]*)){2}")


def sums_of(files: Mapping[str, bytes]) -> bytes:
    """Lines as ``sha256sum -c`` takes them, by path.

    Parameters
    ----------
    files
        Bytes of each file by its path.

    Returns
    -------
    bytes
        One line per file.
    """
    lines = (f"{hashlib.sha256(files[path]).hexdigest()}  {path}\n" for path in sorted(files))
    return "".join(lines).encode()


def frozen_versions(directory: Path) -> tuple[str, ...]:
    """Versions under ``releases``, oldest first.

    Parameters
    ----------
    directory
        The dataset's directory, which holds ``releases``.

    Returns
    -------
    tuple of str
        Empty where there is no release.
    """
    root = directory / "releases"
    found = [path.name for path in root.iterdir() if VERSION.fullmatch(path.name)] if root.is_dir() else []
    return tuple(sorted(found, key=lambda version: tuple(map(int, version.split(".")))))


def check_releases(directory: Path) -> Iterator[str]:
    """Compare every release with its list of sums, and load it as the service does.

    Parameters
    ----------
    directory
        The dataset's directory, which holds ``releases``.

    Yields
    ------
    str
        One sentence per defect.
    """
    for version in frozen_versions(directory):
        root = directory / "releases" / version
        files = {path.relative_to(root).as_posix(): path for path in root.rglob("*") if path.is_file()}
        sums = files.pop(SUMS, None)
        if sums is None:
            yield f"release {version}: {SUMS} is missing"
        else:
            yield from _sum_defects(version, files, sums.read_text("utf-8"))
        try:
            load_release(root)
        except DefectiveRelease as error:
            yield str(error)


def _sum_defects(version: str, files: Mapping[str, Path], sums: str) -> Iterator[str]:
    promised = {path: digest for digest, _, path in (line.partition("  ") for line in sums.splitlines())}
    for path in sorted(promised.keys() - files.keys()):
        yield f"release {version}: {path} is missing"
    for path in sorted(files.keys() - promised.keys()):
        yield f"release {version}: {path} was not released"
    for path in sorted(files.keys() & promised.keys()):
        if hashlib.sha256(files[path].read_bytes()).hexdigest() != promised[path]:
            yield f"release {version}: {path} is not the file that was released"
