"""What every page shows around its own content: navigation, release, notice."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from flask import Flask, request

from service.domain.common import NOTICE
from service.pages.wording import FILTERS
from service.reference.release import DatasetStamp
from service.web.serving import current
from service.web.site import static_files

# One entry per part of the site, in the order in which a newcomer needs them.
_PARTS = (
    ("Front page", "/"),
    ("Workbench", "/workbench"),
    ("Ingredients", "/ingredients"),
    ("Data", "/data"),
    ("Docs", "/docs"),
)


@dataclass(frozen=True, slots=True)
class Part:
    """One entry of the navigation."""

    label: str
    address: str
    is_current: bool


@dataclass(frozen=True, slots=True)
class Site:
    """What ``base.html`` shows around a page. ``stamp`` is ``None`` while no release could be loaded."""

    parts: tuple[Part, ...]
    stamp: DatasetStamp | None
    notice: str


def _parts(path: str) -> tuple[Part, ...]:
    return tuple(
        Part(label, address, path == address or (address != "/" and path.startswith(f"{address}/")))
        for label, address in _PARTS
    )


def _around() -> dict[str, Any]:
    releases = current().releases
    return {"site": Site(_parts(request.path), releases.newest.stamp if releases else None, NOTICE)}


def register(app: Flask) -> None:
    """Give every template its surroundings, the addresses of static files, and words for people."""
    static_files.register(app)
    app.context_processor(_around)
    for name, function in FILTERS.items():
        app.add_template_filter(function, name)
