"""The document: slim, titled, without styles, the same for the same drawing."""

from __future__ import annotations

import re
import xml.etree.ElementTree as ElementTree

from service.pages.charts.palette import DARK, LIGHT, colours_in
from service.pages.charts.svg import Inscription, Page, document

# As matplotlib writes: a hairline, a marker used twice within a group of its own, groups without meaning, metadata.
DRAWN = """<?xml version="1.0" encoding="utf-8" standalone="no"?>
<!DOCTYPE svg PUBLIC "-//W3C//DTD SVG 1.1//EN" "http://www.w3.org/Graphics/SVG/1.1/DTD/svg11.dtd">
<svg xmlns:xlink="http://www.w3.org/1999/xlink" width="720pt" height="400pt" viewBox="0 0 720 400"
 xmlns="http://www.w3.org/2000/svg" version="1.1">
 <metadata><x>left out</x></metadata>
 <defs><style type="text/css">*{stroke-linejoin: round; stroke-linecap: butt}</style></defs>
 <g id="figure_1"><g id="line2d_1">
 <path d="M 28.123456 100.0 L 692.000000 100.04 " style="fill: none; stroke: #d8d3c7; stroke-width: 0.8"/>
 </g><g id="mark-7">
 <defs><path id="m0123456789" d="M 0 3.123456 C 1 2 3 4 5 6 z " style="stroke: #1d3f73; stroke-width: 1.6"/></defs>
 <g><use xlink:href="#m0123456789" x="50.55" y="60.04" style="fill: #1d3f73; stroke: #1d3f73"/>
 <use xlink:href="#m0123456789" x="70" y="-0.01" style="fill: #1d3f73; stroke: #1d3f73; stroke-dashoffset: 0"/></g>
 </g></g>
</svg>"""
PAGE = Page(720, 400, LIGHT.paper, "A title & more", "A description <of> it")
TEXTS = [
    Inscription(10, 20, "plain", 12, LIGHT.ink),
    Inscription(30.04, 20, 'quoted "#22252b" & <b>', 12, LIGHT.ink),
    Inscription(50, 20, "bold at its end", 12, LIGHT.ink, anchor="end", bold=True, halo=LIGHT.paper),
]


def write(theme: str = "light", title: str = PAGE.title) -> str:
    return document(DRAWN, TEXTS, Page(720, 400, LIGHT.paper, title, PAGE.description), colours_in(theme))


def test_document_is_one_svg_element_without_styles() -> None:
    svg = write()
    assert svg.startswith("<svg ")
    for absent in ("style", "metadata", "DOCTYPE", "figure_1", "left out", "m0123456789", "dashoffset"):
        assert absent not in svg, absent
    assert ElementTree.fromstring(svg).attrib["viewBox"] == "0 0 720 400"  # noqa: S314 - our own document


def test_numbers_are_no_longer_than_they_need_be() -> None:
    svg = write()
    assert 'd="M28.1 100L692 100"' in svg
    # Markers are small: their shape keeps a digit more.
    assert 'd="M0 3.12C1 2 3 4 5 6z"' in svg
    assert 'x="70" y="0"' in svg


def test_styles_become_attributes() -> None:
    assert '<path fill="none" stroke="#d8d3c7" stroke-width="0.8"' in write()


def test_mark_names_its_row() -> None:
    root = ElementTree.fromstring(write())  # noqa: S314 - our own document
    (mark,) = [element for element in root.iter() if element.get("data-mark") == "7"]
    assert len(list(mark)) == 2
    defined = {element.get("id") for element in root.iter() if element.get("id")}
    assert {use.attrib["{http://www.w3.org/1999/xlink}href"][1:] for use in mark} <= defined


def test_lines_that_are_set_alike_share_a_group() -> None:
    root = ElementTree.fromstring(write())  # noqa: S314 - our own document
    groups = [group for group in root if group.tag.endswith("}g") and group.get("font-size")]
    assert [len(group) for group in groups] == [2, 1]
    assert groups[1].attrib["text-anchor"] == "end"
    assert groups[1].attrib["paint-order"] == "stroke"


def test_texts_are_escaped_and_kept() -> None:
    svg = write()
    assert 'quoted "#22252b" &amp; &lt;b&gt;' in svg
    assert "A title &amp; more" in svg


def test_dark_theme_changes_colours_and_no_text() -> None:
    svg = write("dark")
    used = set(re.findall(r'(?:fill|stroke)="(#[0-9a-f]{6})"', svg))
    assert used <= set(DARK.colours())
    assert 'quoted "#22252b"' in svg


def test_ids_of_different_charts_differ() -> None:
    first, second = (set(re.findall(r' id="([^"]+)"', write(title=title))) for title in ("one", "other"))
    assert not first & second
    assert write() == write()
