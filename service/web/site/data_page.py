"""``/data``: the releases of the dataset and their files, for people; and the icon that browsers ask for."""

from __future__ import annotations

import json
from typing import Any

from flask import Blueprint, Response, current_app, render_template

from service.pages.release_view import present_release
from service.web.negotiation import choose
from service.web.responses import Caching, respond
from service.web.serving import current, envelope

blueprint = Blueprint("site_data", __name__)
_DESCRIPTOR = "datapackage.json"


@blueprint.get("/data")
def show_data() -> Response:
    """Answer with every release, the newest with its tables."""
    choose(("html",))
    releases = current().all()
    newest = present_release(releases.newest, _descriptor(releases.newest.stamp.version))
    earlier = [envelope(version).reference.stamp for version in releases.versions[1:]]
    text = render_template("data.html", newest=newest, earlier=earlier)
    return respond(text.encode(), "html", Caching.REVALIDATE)


@blueprint.get("/favicon.ico")
def show_icon() -> Response:
    """Answer with the icon, for browsers that ask before they have read a page."""
    return current_app.send_static_file("favicon.ico")


def _descriptor(version: str) -> dict[str, Any]:
    serving = current()
    found: dict[str, Any] = json.loads(
        serving.kept((version, _DESCRIPTOR), lambda: serving.all().files(version)[_DESCRIPTOR])
    )
    return found
