"""The releases of the dataset as the page on data shows them."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from service.reference.release import Reference

_DESCRIPTION_BEGINS = "One row is "


@dataclass(frozen=True, slots=True)
class TableView:
    """One table of a release."""

    name: str
    title: str
    description: str
    row_count: int


@dataclass(frozen=True, slots=True)
class ReleaseView:
    """One release with its tables; ``base`` is where its files begin."""

    version: str
    released: str
    sha256: str
    base: str
    tables: tuple[TableView, ...]


def present_release(reference: Reference, descriptor: Mapping[str, Any]) -> ReleaseView:
    """Arrange one release.

    Parameters
    ----------
    reference
        The release.
    descriptor
        Its ``datapackage.json``, which titles and describes each table.

    Returns
    -------
    ReleaseView
        With the tables in the order of the descriptor.
    """
    stamp = reference.stamp
    tables = tuple(_table(reference, resource) for resource in descriptor["resources"])
    return ReleaseView(stamp.version, stamp.released, stamp.sha256, f"/v1/dataset/{stamp.version}", tables)


def _table(reference: Reference, resource: Mapping[str, Any]) -> TableView:
    name = resource["name"].replace("-", "_")
    described = resource["description"].removeprefix(_DESCRIPTION_BEGINS)
    return TableView(name, resource["title"], f"{described[:1].upper()}{described[1:]}", len(reference.tables[name]))
