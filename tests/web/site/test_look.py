"""Colours, typeface, frame and static files of the pages."""

from __future__ import annotations

import re
from hashlib import blake2b
from itertools import combinations
from math import dist
from pathlib import Path

import pytest
from flask import Flask
from flask.testing import FlaskClient

from service import create_app
from service.reference.releases import Releases
from service.web.serving import Serving, attach
from tests.web.site.documents import assert_sound, by_class, by_id, page, parsed, text_of

STATIC = Path(__file__).parents[3] / "service" / "pages" / "static"
CSS = (STATIC / "pages.css").read_text("utf-8")
VERDICTS = ("stop", "ask", "open", "none")
_TOKEN = re.compile(r"--([a-z-]+):\s*(#[0-9a-f]{6})\b")


def tokens(scheme: str) -> dict[str, str]:
    """Give the colours of a scheme; the dark one changes what the light one says."""
    light, dark = CSS.split("@media (prefers-color-scheme: dark)")[0:2]
    found = dict(_TOKEN.findall(light))
    return found if scheme == "light" else {**found, **dict(_TOKEN.findall(dark.split("/* page */")[0]))}


def linear(colour: str) -> list[float]:
    """Undo the transfer function of sRGB (WCAG 2.2, "relative luminance")."""
    shares = (int(colour[at : at + 2], 16) / 255 for at in (1, 3, 5))
    return [share / 12.92 if share <= 0.04045 else ((share + 0.055) / 1.055) ** 2.4 for share in shares]


def contrast(one: str, other: str) -> float:
    """Contrast by WCAG 2.2: (L1 + 0.05) / (L2 + 0.05)."""
    low, high = sorted(
        sum(w * c for w, c in zip((0.2126, 0.7152, 0.0722), linear(x), strict=True)) for x in (one, other)
    )
    return (high + 0.05) / (low + 0.05)


# Machado, Oliveira, Fernandes 2009, "A physiologically-based model for simulation of color vision deficiency",
# severity 1.0 (from memory).
_SEEN_BY = {
    "ordinary": ((1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0)),
    "protanopia": (
        (0.152286, 1.052583, -0.204868),
        (0.114503, 0.786281, 0.099216),
        (-0.003882, -0.048116, 1.051998),
    ),
    "deuteranopia": (
        (0.367322, 0.860646, -0.227968),
        (0.280085, 0.672501, 0.047413),
        (-0.011820, 0.042940, 0.968881),
    ),
    "tritanopia": (
        (1.255528, -0.076749, -0.178779),
        (-0.078411, 0.930809, 0.147602),
        (0.004733, 0.691367, 0.303900),
    ),
}


def lab(colour: str, eyes: str) -> tuple[float, float, float]:
    """Give a colour as these eyes see it in CIELAB (D65), where distances are about as large as they look."""
    red, green, blue = (
        min(1.0, max(0.0, sum(m * c for m, c in zip(row, linear(colour), strict=True)))) for row in _SEEN_BY[eyes]
    )
    x = (0.4124 * red + 0.3576 * green + 0.1805 * blue) / 0.95047
    y = 0.2126 * red + 0.7152 * green + 0.0722 * blue
    z = (0.0193 * red + 0.1192 * green + 0.9505 * blue) / 1.08883
    fx, fy, fz = (t ** (1 / 3) if t > 0.008856 else 7.787 * t + 16 / 116 for t in (x, y, z))
    return 116 * fy - 16, 500 * (fx - fy), 200 * (fy - fz)


def test_contrast_by_hand() -> None:
    # Black on white is 21:1; #777 on white is 4.48:1, the well-known grey that just fails.
    assert contrast("#000000", "#ffffff") == pytest.approx(21)
    assert contrast("#777777", "#ffffff") == pytest.approx(4.48, abs=0.005)


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_text_can_be_read(scheme: str) -> None:
    colour = tokens(scheme)
    for ground in ("paper", "wash"):
        for text in ("ink", "quiet", "accent", *VERDICTS):
            assert contrast(colour[text], colour[ground]) >= 4.5, (text, ground)
        # WCAG 2.2, 1.4.11: what marks a control.
        assert contrast(colour["edge"], colour[ground]) >= 3, ground
    assert contrast(colour["on-accent"], colour["accent"]) >= 4.5
    assert contrast(colour["paper"], colour["stop"]) >= 4.5
    assert contrast(colour["paper"], colour["ink"]) >= 4.5


@pytest.mark.parametrize("scheme", ["light", "dark"])
@pytest.mark.parametrize("eyes", sorted(_SEEN_BY))
def test_tones_of_verdicts_keep_apart(scheme: str, eyes: str) -> None:
    colour = tokens(scheme)
    for one, other in combinations(VERDICTS, 2):
        assert dist(lab(colour[one], eyes), lab(colour[other], eyes)) >= 15, (one, other)


def test_no_meaning_by_colour_alone(client: FlaskClient) -> None:
    badges = by_class(page(client, "/"), "badge")
    assert len(badges) == 5
    assert all(text_of(badge) for badge in badges)
    shapes = [[dict(part.attrib) for part in badge.iter() if part.tag != "span"][1:] for badge in badges]
    assert all(shapes)
    assert all(one != other for one, other in combinations(shapes, 2))


def test_everything_is_local() -> None:
    assert not re.search(r"https?:|@import|//[a-z]", CSS)
    for name in ("home.js", "mark.svg"):
        assert not re.search(r"https?://(?!www\.w3\.org/2000/svg)", (STATIC / name).read_text("utf-8"))


def test_typeface_is_small_licensed_and_addressed_by_its_bytes() -> None:
    fonts = sorted((STATIC / "fonts").glob("*.woff2"))
    assert len(fonts) == 2
    assert sum(font.stat().st_size for font in fonts) <= 60_000
    assert "SIL OPEN FONT LICENSE Version 1.1" in (STATIC / "fonts" / "OFL.txt").read_text("utf-8")
    for font in fonts:
        digest = blake2b(font.read_bytes(), digest_size=5).hexdigest()
        assert f'url("fonts/{font.name}?v={digest}")' in CSS
    assert CSS.count("font-display: swap") == 2


def test_static_files_are_kept_by_their_hash(client: FlaskClient) -> None:
    root = page(client, "/")
    addresses = [link.get("href", "") for link in root.iter("link")]
    addresses += [script.get("src", "") for script in root.iter("script")]
    assert len(addresses) == 4
    for address in addresses:
        assert re.search(r"\?v=[0-9a-f]{10}$", address)
        response = client.get(address, buffered=True)
        assert response.status_code == 200
        assert response.headers["Cache-Control"] == "public, max-age=31536000, immutable"
        other = client.get(address.partition("?")[0], buffered=True)
        assert other.headers["Cache-Control"] == "public, no-cache"
    assert client.get("/static/none.css").headers["Cache-Control"] == "no-store"


@pytest.mark.parametrize(
    ("path", "kind"),
    [
        ("/static/fonts/text-regular.woff2", "font/woff2"),
        ("/static/home.js", "text/javascript; charset=utf-8"),
        ("/static/mark.svg", "image/svg+xml; charset=utf-8"),
        ("/favicon.ico", "image/vnd.microsoft.icon"),
    ],
)
def test_static_files_say_what_they_are(client: FlaskClient, path: str, kind: str) -> None:
    response = client.get(path, buffered=True)
    assert response.status_code == 200
    assert response.content_type == kind
    assert response.headers["X-Content-Type-Options"] == "nosniff"


@pytest.mark.parametrize(
    ("path", "part"),
    [("/", "Front page"), ("/ingredients", "Ingredients"), ("/ingredients/msm", "Ingredients"), ("/data", "Data")],
)
def test_navigation_says_where_one_is(client: FlaskClient, path: str, part: str) -> None:
    root = page(client, path)
    assert [text_of(link) for link in root.iter("a") if link.get("aria-current")] == [part]
    assert by_class(root, "skip")[0].get("href") == "#content"
    assert by_id(root, "content").tag == "main"


@pytest.mark.parametrize("path", ["/problems", "/problems/internal", "/v1/ingredients.html", "/data"])
def test_every_page_stands_in_the_frame(client: FlaskClient, path: str) -> None:
    root = page(client, path)
    assert text_of(root.find(".//title")).endswith(" · Fabella")


def test_footer_names_the_release_that_answered(client: FlaskClient) -> None:
    asked = {"species": "dog", "weight": "34 kg", "ingredient": "msm"}
    newest = text_of(page(client, "/v1/dose.html", **asked).find(".//footer"))
    pinned = text_of(page(client, "/v1/dose.html", **asked, dataset="1.0.0").find(".//footer"))
    assert "Dataset 1.1.0, released" in newest
    assert "Dataset 1.0.0, released" in pinned


def test_pages_need_no_release_to_explain_a_problem(releases: Releases) -> None:
    app: Flask = create_app(releases)
    attach(app, Serving(None))
    response = app.test_client().get("/problems/not-ready")
    assert response.status_code == 200
    root = parsed(response.get_data(as_text=True))
    assert_sound(root)
    assert "Dataset" not in text_of(root.find(".//footer"))


def test_data_page_lists_every_table_and_release(client: FlaskClient, releases: Releases) -> None:
    root = page(client, "/data")
    found = {link.get("href", "") for link in root.iter("a")}
    listed = client.get("/v1/dataset").get_json()["releases"]
    newest, *earlier = listed
    for table in newest["tables"]:
        assert {table[form] for form in ("csv", "json", "html")} <= found
    assert all(release["archive"] in found for release in listed)
    assert len(earlier) == len(releases.versions) - 1
    assert newest["sha256"] in text_of(root.find(".//main"))


@pytest.mark.parametrize(
    "path",
    [
        "/",
        "/?species=dog&weight=34kg&ingredient=glucosamine",
        "/ingredients",
        "/ingredients/glucosamine",
        "/ingredients/epa-dha",
        "/ingredients/vitamin-d",
        "/data",
        "/problems",
    ],
)
def test_a_page_with_all_it_loads_is_light(client: FlaskClient, path: str) -> None:
    text = client.get(path).get_data(as_text=True)
    loaded = [*re.findall(r'(?:href|src)="(/static/[^"]+)"', text), "/static/fonts/text-semibold.woff2"]
    weights = [len(client.get(address, buffered=True).get_data()) for address in dict.fromkeys(loaded)]
    # The charts of a page come on top and are weighed in a browser.
    assert len(text.encode()) + sum(weights) < 150_000
