"""From what matplotlib writes to a slim SVG document that can be read aloud and shown anywhere.

Styles become attributes, so that the document may also stand inside a page whose policy admits no styles; groups,
metadata and needless digits go; title and description come in.
"""

from __future__ import annotations

import re
import xml.etree.ElementTree as ElementTree
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from hashlib import blake2b
from xml.etree.ElementTree import Element, SubElement

# Serifs with lining figures; the last resort on most Linux machines is the font that texts were measured by.
_FONTS = "Charter, 'Bitstream Charter', 'Sitka Text', Cambria, 'Noto Serif', serif"
_HREF = "{http://www.w3.org/1999/xlink}href"
_MARK = "mark-"
_DECIMAL = re.compile(r"-?\d+\.\d+")
_BESIDE_COMMAND = re.compile(r"\s*([A-Za-z])\s*")
_LEFT_OUT = frozenset(("metadata", "style"))
_KEPT_ATTRIBUTES = ("x", "y")
_COLOURED = ("fill", "stroke")


@dataclass(frozen=True, slots=True)
class Inscription:
    """One line of text: where its baseline begins, ends or has its middle (``anchor``), and how it is set."""

    x: float
    y: float
    text: str
    size: float
    colour: str
    anchor: str = "start"
    bold: bool = False
    halo: str | None = None


@dataclass(frozen=True, slots=True)
class Page:
    """What surrounds a drawing."""

    width: int
    height: int
    paper: str
    title: str
    description: str


def document(drawn: str, texts: Sequence[Inscription], page: Page, colours: Mapping[str, str]) -> str:
    """Write the document.

    Parameters
    ----------
    drawn
        The SVG that matplotlib wrote, without any text.
    texts
        What is written over it.
    page
        Size, colour of the paper, title and description.
    colours
        What each colour of the drawing becomes.

    Returns
    -------
    str
        One ``svg`` element. The same input gives the same text.
    """
    # Several charts can stand in one page: their ids must differ.
    own = "c" + blake2b(f"{page.title}\n{page.description}\n{drawn}".encode(), digest_size=4).hexdigest()
    root = _root(own, page)
    source = ElementTree.fromstring(drawn)  # noqa: S314 - written by matplotlib a moment ago, numbers and ids only
    markers = _Markers(own)
    shapes = [shape for child in source for shape in _copied(child, markers)]
    if markers.definitions:
        SubElement(root, "defs").extend(markers.definitions)
    SubElement(root, "rect", {"width": str(page.width), "height": str(page.height), "fill": page.paper})
    root.extend(shapes)
    _write(root, texts)
    for element in root.iter():
        for name in _COLOURED:
            if (colour := element.get(name)) in colours:
                element.set(name, colours[colour or ""])
    return ElementTree.tostring(root, encoding="unicode")


def _root(own: str, page: Page) -> Element:
    root = Element(
        "svg",
        {
            "xmlns": "http://www.w3.org/2000/svg",
            "xmlns:xlink": "http://www.w3.org/1999/xlink",
            "viewBox": f"0 0 {page.width} {page.height}",
            "width": str(page.width),
            "height": str(page.height),
            "role": "img",
            "aria-labelledby": f"{own}-title {own}-desc",
            "font-family": _FONTS,
            "stroke-linejoin": "round",
        },
    )
    for tag, text in (("title", page.title), ("desc", page.description)):
        SubElement(root, tag, {"id": f"{own}-{tag}"}).text = text
    return root


class _Markers:
    """The shapes of markers, each defined once under a short id of this document."""

    def __init__(self, own: str) -> None:
        self.definitions: list[Element] = []
        self._own = own
        self._ids: dict[str, str] = {}

    def define(self, path: Element) -> None:
        given = path.attrib["id"]
        if given not in self._ids:
            self._ids[given] = f"{self._own}-{len(self._ids)}"
            self.definitions.append(Element("path", {"id": self._ids[given], "d": _compact(path.attrib["d"], 2)}))

    def reference(self, use: Element) -> str:
        return f"#{self._ids[use.attrib[_HREF][1:]]}"


def _copied(element: Element, markers: _Markers) -> Iterator[Element]:
    tag = element.tag.rpartition("}")[2]
    if tag in _LEFT_OUT:
        return
    if tag == "defs":
        for path in element:
            if path.tag.endswith("path"):
                markers.define(path)
        return
    if tag == "g":
        inside = [copy for child in element for copy in _copied(child, markers)]
        yield from _grouped(element.get("id", ""), inside)
        return
    copy = Element(tag, _style(element.get("style", "")))
    if tag == "use":
        copy.set("xlink:href", markers.reference(element))
        for name in _KEPT_ATTRIBUTES:
            copy.set(name, _rounded(element.attrib[name], 1))
    else:
        copy.set("d", _compact(element.attrib["d"], 1))
    yield copy


def _grouped(name: str, inside: list[Element]) -> Iterator[Element]:
    """Keep only the groups that belong to a row of the table."""
    if not name.startswith(_MARK):
        yield from inside
        return
    shape = inside[0]
    if len(inside) > 1:
        shape = Element("g")
        shape.extend(inside)
    shape.set("data-mark", name.removeprefix(_MARK))
    yield shape


def _style(text: str) -> dict[str, str]:
    pairs = (part.split(":", 1) for part in text.split(";") if part.strip())
    found = {name.strip(): _rounded(value.strip(), 2) for name, value in pairs}
    found.pop("stroke-dashoffset", None)
    return found


def _compact(path: str, decimals: int) -> str:
    return _BESIDE_COMMAND.sub(r"\1", _rounded(path, decimals)).strip()


def _rounded(text: str, decimals: int) -> str:
    return _DECIMAL.sub(lambda found: _number(float(found[0]), decimals), text)


def _number(value: float, decimals: int) -> str:
    text = f"{value:.{decimals}f}".rstrip("0").rstrip(".")
    return "0" if text in ("-0", "") else text


def _write(root: Element, texts: Sequence[Inscription]) -> None:
    """Write lines, those that are set alike in one group."""
    alike: dict[tuple[tuple[str, str], ...], Element] = {}
    for line in texts:
        setting = _setting(line)
        group = alike.get(setting)
        if group is None:
            group = alike[setting] = SubElement(root, "g", dict(setting))
        SubElement(group, "text", {"x": _number(line.x, 1), "y": _number(line.y, 1)}).text = line.text


def _setting(line: Inscription) -> tuple[tuple[str, str], ...]:
    attributes = {"font-size": _number(line.size, 2), "fill": line.colour}
    if line.anchor != "start":
        attributes["text-anchor"] = line.anchor
    if line.bold:
        attributes["font-weight"] = "600"
    if line.halo is not None:
        # The paper shines round the letters, so that a hairline behind them does not strike them through.
        attributes |= {"stroke": line.halo, "stroke-width": "3", "paint-order": "stroke"}
    return tuple(attributes.items())
