"""The sources behind a page, as its template shows them."""

from __future__ import annotations

from collections.abc import Iterable

from service.pages.wording import brief
from service.web.envelope import Envelope, source_on_wire

PageSource = dict[str, str | None]


def page_sources(release: Envelope, source_ids: Iterable[str]) -> dict[str, PageSource]:
    """Give the sources by id, each once and in the given order; ``brief`` is a short name for lines and cells."""
    known = release.reference.sources
    return {id_: {**source_on_wire(known[id_]), "brief": brief(known[id_])} for id_ in dict.fromkeys(source_ids)}
