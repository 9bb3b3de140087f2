"""The addresses below ``/docs``."""

from __future__ import annotations

from functools import lru_cache
from typing import Any

from flask import Blueprint, Response, render_template

from service.domain.suggesting import nearest_ids
from service.pages.docs import reference
from service.pages.docs.code import code_text, first_of, json_text, part_of
from service.pages.docs.figures import count_words, money_words
from service.pages.docs.guides import GROUPS, GUIDES
from service.reference.release import DatasetStamp
from service.schemas.request_base import shown
from service.web.faults import Fault
from service.web.negotiation import choose
from service.web.problems import KINDS, root_url
from service.web.responses import Caching, respond
from service.web.serving import envelope
from service.web.site.docs import console
from service.web.site.docs.document import openapi_document
from service.web.site.docs.examples import EXAMPLES

blueprint = Blueprint("site_docs", __name__)
# Guides times the addresses that a service is reached by; what a caller makes up only pushes others out.
_MOST_KEPT = 64
for _filter in (code_text, count_words, first_of, json_text, money_words, part_of):
    blueprint.add_app_template_filter(_filter)


@blueprint.get("/docs")
def show_index() -> Response:
    """Answer with the way to everything else."""
    return _page("index", groups=GROUPS)


@blueprint.get("/docs/reference")
def show_reference() -> Response:
    """Answer with the table of contents of the reference, and what holds for all of it."""
    document = openapi_document()
    return _page(
        "reference",
        about=reference.about(document),
        chapters=reference.chapters(document),
        envelope=reference.envelope_members(document),
        problem=reference.problem_members(document),
        kinds=KINDS.values(),
    )


@blueprint.get("/docs/reference/<tag>")
def show_reference_page(tag: str) -> Response:
    """Answer with the operations of one tag."""
    document = openapi_document()
    chapters = {chapter.name: chapter for chapter in reference.chapters(document)}
    if tag not in chapters:
        raise _unknown("part of the reference", tag, list(chapters))
    page = reference.page(document, tag, root_url())
    return _page("reference_page", chapter=chapters[tag], chapters=chapters.values(), page=page)


@blueprint.get("/docs/console")
def show_console() -> Response:
    """Answer with the page in which requests can be tried."""
    return _page("console", asset_url=console.asset_url)


@blueprint.get("/docs/console/assets/<name>")
def get_asset(name: str) -> Response:
    """Answer with a file of the console."""
    return console.send_asset(name)


@blueprint.get("/docs/<slug>")
def show_guide(slug: str) -> Response:
    """Answer with one guide, its examples asked of this service."""
    choose(("html",))
    if slug not in GUIDES:
        raise _unknown("guide", slug, [*GUIDES, "reference", "console"])
    return respond(_made(slug, root_url(), envelope().reference.stamp), "html", Caching.REVALIDATE)


@lru_cache(maxsize=_MOST_KEPT)
def _made(slug: str, root: str, stamp: DatasetStamp) -> bytes:
    """Make a guide once for an address of the service and a release: its examples take longer than a page should."""
    examples = EXAMPLES[slug](envelope(stamp.version)) if slug in EXAMPLES else {}
    return _text(slug, guide=GUIDES[slug], groups=GROUPS, root=root, **examples)


def _page(name: str, **around: Any) -> Response:  # noqa: ANN401 - whatever the template shows
    choose(("html",))
    return respond(_text(name, **around), "html", Caching.REVALIDATE)


def _text(name: str, **around: Any) -> bytes:  # noqa: ANN401 - whatever the template shows
    return render_template(f"docs/{name}.html", **around).encode()


def _unknown(what: str, name: str, known: list[str]) -> Fault:
    near = list(nearest_ids(name, known))
    return Fault(
        "not-found", f"There is no {what} {shown(name)}; known: {', '.join(known)}.", members={"nearest": near}
    )
