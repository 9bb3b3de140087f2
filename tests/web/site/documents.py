"""What every page must be: a document that a strict parser takes, whose parts fit together."""

from __future__ import annotations

from collections import Counter
from xml.etree.ElementTree import Element

import html5lib
from flask.testing import FlaskClient

_CONTROLS = ("input", "select", "textarea")


def parsed(text: str) -> Element:
    """Parse a page; any error of the HTML standard raises."""
    root: Element = html5lib.HTMLParser(strict=True, namespaceHTMLElements=False).parse(text)
    return root


def page(client: FlaskClient, path: str, **query: str) -> Element:
    """Get a page, hold it against everything that every page must be, and give its tree."""
    response = client.get(path, query_string=query)
    assert response.status_code == 200, (path, response.get_data(as_text=True)[:300])
    assert response.content_type == "text/html; charset=utf-8"
    root = parsed(response.get_data(as_text=True))
    assert_sound(root, path)
    return root


def assert_sound(root: Element, where: str = "") -> None:
    """Assert unique ids, anchors that lead somewhere, labelled controls, nothing inline, one heading of the page."""
    ids = Counter(element.get("id") for element in root.iter() if element.get("id"))
    assert not [id_ for id_, count in ids.items() if count > 1], where
    for name in ("href", "for", "popovertarget", "aria-labelledby", "aria-describedby", "list"):
        assert _targets(root, name) <= set(ids), (where, name, _targets(root, name) - set(ids))
    for control in _controls(root):
        labelled = {label.get("for") for label in root.iter("label")}
        assert control.get("id") in labelled, (where, control.attrib)
    for element in root.iter():
        assert "style" not in element.attrib, where
        assert not [name for name in element.attrib if name.startswith("on")], where
        assert element.tag != "style", where
    assert all(script.get("src", "").startswith("/static/") for script in root.iter("script")), where
    assert len(list(root.iter("h1"))) == 1, where
    for landmark in ("header", "main", "footer"):
        assert len(list(root.iter(landmark))) == 1, where


def _targets(root: Element, name: str) -> set[str]:
    values = (element.get(name, "") for element in root.iter() if element.get(name))
    if name == "href":
        return {value[1:] for value in values if value.startswith("#")}
    return {id_ for value in values for id_ in value.split()}


def _controls(root: Element) -> list[Element]:
    found = [element for name in _CONTROLS for element in root.iter(name)]
    return [element for element in found if element.get("type") not in ("hidden", "submit")]


def text_of(element: Element | None) -> str:
    """Give the text of an element as a reader sees it: blanks of all kinds as one."""
    assert element is not None
    return " ".join("".join(element.itertext()).split())


def by_id(root: Element, id_: str) -> Element:
    """Find the element with an id."""
    found = next((element for element in root.iter() if element.get("id") == id_), None)
    assert found is not None, id_
    return found


def by_class(root: Element, name: str) -> list[Element]:
    """Find the elements of a class."""
    return [element for element in root.iter() if name in element.get("class", "").split()]


def links(root: Element) -> set[str]:
    """List the addresses that a page links to."""
    return {element.get("href", "") for element in root.iter("a")}
