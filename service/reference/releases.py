"""Where releases lie on disk, and loading one after its bytes were verified."""

from __future__ import annotations

import hashlib
import json
import re
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from types import MappingProxyType
from typing import Any

from service.reference.checking import check_tables
from service.reference.loading import TABLES, TableError, read_table
from service.reference.release import DatasetStamp, Reference

_PACKAGE = Path(__file__).resolve().parent.parent
_VERSION = re.compile(r"[0-9]+\.[0-9]+\.[0-9]+")


class DefectiveRelease(Exception):
    """A release whose bytes, keys or values are not what its descriptor promises."""


class UnknownVersion(KeyError):
    """No release has this version."""


def dataset_directory() -> Path:
    """Directory that holds ``releases``: beside the package in a checkout, inside it when installed."""
    installed = _PACKAGE / "_dataset"
    return installed if installed.is_dir() else _PACKAGE.parent / "dataset"


@dataclass(frozen=True)
class Releases:
    """All releases that were found and verified, newest first."""

    references: Mapping[str, Reference]
    directory: Path

    @property
    def versions(self) -> tuple[str, ...]:
        """Versions, newest first."""
        return tuple(self.references)

    @property
    def newest(self) -> Reference:
        """The release that serves answers which pin none."""
        return next(iter(self.references.values()))

    def get(self, version: str) -> Reference:
        """Give one release.

        Parameters
        ----------
        version
            For example ``1.0.0``.

        Returns
        -------
        Reference
            The tables of that release.

        Raises
        ------
        UnknownVersion
            If there is none of this version.
        """
        try:
            return self.references[version]
        except KeyError:
            raise UnknownVersion(version) from None

    def files(self, version: str) -> Mapping[str, bytes]:
        """Bytes of every file of a release by its path, for downloads.

        Parameters
        ----------
        version
            For example ``1.0.0``.

        Returns
        -------
        Mapping
            Bytes by path, in order of the paths.

        Raises
        ------
        UnknownVersion
            If there is none of this version.
        """
        self.get(version)
        root = self.directory / "releases" / version
        paths = [path for path in sorted(root.rglob("*")) if path.is_file()]
        return {path.relative_to(root).as_posix(): path.read_bytes() for path in paths}


def load_all(directory: Path | None = None) -> Releases:
    """Load and verify every release.

    Parameters
    ----------
    directory
        Directory that holds ``releases``; by default the one that belongs to this installation.

    Returns
    -------
    Releases
        Newest first.

    Raises
    ------
    DefectiveRelease
        If there is no release or one of them has any defect; the message lists them.
    """
    directory = directory or dataset_directory()
    root = directory / "releases"
    found = [path for path in root.iterdir() if _VERSION.fullmatch(path.name)] if root.is_dir() else []
    if not found:
        raise DefectiveRelease(f"no release lies in {root.name}")
    ordered = sorted(found, key=lambda path: tuple(map(int, path.name.split("."))), reverse=True)
    return Releases(MappingProxyType({path.name: load_release(path) for path in ordered}), directory)


def load_release(path: Path) -> Reference:
    """Load one release after comparing every file with its hash.

    Parameters
    ----------
    path
        Directory of the release, with ``datapackage.json``.

    Returns
    -------
    Reference
        The verified release.

    Raises
    ------
    DefectiveRelease
        If any byte, key or value is not what the descriptor promises.
    """
    try:
        raw = (path / "datapackage.json").read_bytes()
        descriptor = json.loads(raw)
        texts = {name: _verified(path, descriptor, name) for name in TABLES}
        tables = {name: read_table(name, text) for name, text in texts.items()}
    except (OSError, KeyError, TypeError, json.JSONDecodeError, UnicodeDecodeError, TableError) as error:
        raise DefectiveRelease(f"release {path.name}: {error}") from error
    defects = check_tables(tables)
    if not isinstance(descriptor.get("released"), str):
        defects = (*defects, "the descriptor does not say when it was released")
    if descriptor.get("version") != path.name:
        defects = (*defects, f"the descriptor says version {descriptor.get('version')}")
    if defects:
        raise DefectiveRelease(f"release {path.name}: " + "; ".join(defects[:20]))
    stamp = DatasetStamp(path.name, hashlib.sha256(raw).hexdigest(), str(descriptor.get("released")))
    return Reference(stamp, MappingProxyType(tables))


def _verified(path: Path, descriptor: dict[str, Any], table: str) -> str:
    resource = next((entry for entry in descriptor["resources"] if entry["name"] == table.replace("_", "-")), None)
    if resource is None:
        raise DefectiveRelease(f"release {path.name}: table {table} is not in the descriptor")
    data: bytes = (path / resource["path"]).read_bytes()
    if len(data) != resource["bytes"] or f"sha256:{hashlib.sha256(data).hexdigest()}" != resource["hash"]:
        raise DefectiveRelease(f"release {path.name}: {resource['path']} is not the file that was released")
    return data.decode("utf-8")


def load_working_tables(directory: Path | None = None) -> Reference:
    """Load the working copy without hashes, for checks and tests.

    Parameters
    ----------
    directory
        Directory that holds ``tables``; by default the dataset's own.

    Returns
    -------
    Reference
        Stamped as version ``working``.

    Raises
    ------
    TableError
        If a table cannot be read.
    """
    root = (directory or dataset_directory()) / "tables"
    tables = {name: read_table(name, (root / f"{name}.csv").read_text("utf-8")) for name in TABLES}
    return Reference(DatasetStamp("working", "0" * 64, "1970-01-01"), MappingProxyType(tables))
