"""Reading the pages of the documentation: their addresses, and the code that stands on them."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from xml.etree.ElementTree import Element

from service.pages.docs.guides import GUIDES
from service.web.site.docs.document import openapi_document

GUIDE_PATHS = tuple(f"/docs/{slug}" for slug in GUIDES)
REFERENCE_PATHS = ("/docs/reference", *(f"/docs/reference/{tag['name']}" for tag in openapi_document()["tags"]))
PATHS = ("/docs", *REFERENCE_PATHS, *GUIDE_PATHS)


@dataclass(frozen=True, slots=True)
class Code:
    """One piece of code on a page, with what stands above it."""

    language: str
    caption: str
    text: str


def codes(root: Element) -> Iterator[Code]:
    """Find every piece of code of a page, in order."""
    for figure in root.iter("figure"):
        pre = figure.find("pre")
        if figure.get("class") == "code":
            assert pre is not None
            caption = "".join(figure.findtext("figcaption") or "")
            yield Code(pre.get("class", ""), caption, "".join(pre.itertext()))
