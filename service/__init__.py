"""Daily amounts, costs and warnings for supplements of dogs and cats, as a web service."""

from __future__ import annotations

import logging

from flask import Flask

from service.reference import releases as dataset_releases
from service.reference.releases import Releases
from service.web import (
    batch,
    body,
    care_note,
    combine,
    compare,
    convert,
    dataset,
    dose,
    exposure,
    forms,
    html_tables,
    index,
    ingredients,
    labels,
    normalise,
    operations,
    plan,
    problem_pages,
    problems,
    resolve,
    responses,
    screen,
    serving,
)
from service.web.site import care_note as care_note_page
from service.web.site import charts, data_page, docs, home, ingredient_pages, look
from service.web.site.workbench import charts as workbench_charts
from service.web.site.workbench import views as workbench
from service.web.warming import warm_up

_RESOURCES = (
    index,
    ingredients,
    forms,
    resolve,
    dose,
    convert,
    labels,
    normalise,
    compare,
    combine,
    screen,
    exposure,
    plan,
    care_note,
    batch,
    dataset,
    operations,
    problem_pages,
    home,
    ingredient_pages,
    charts,
    data_page,
    care_note_page,
    workbench,
    workbench_charts,
    docs,
)
_log = logging.getLogger(__name__)


def create_app(releases: Releases | None = None, *, check_answers: bool = False) -> Flask:
    """Build the application.

    Parameters
    ----------
    releases
        What to serve; by default every release that belongs to this installation. Where none can be verified the
        application still starts, and answers everything that needs data with the problem ``not-ready``.
    check_answers
        Hold every answer against its schema; for tests.

    Returns
    -------
    Flask
        A WSGI application. Settings can be given in the environment, prefixed ``FABELLA_``; ``PUBLIC_URL`` is the
        absolute address that problem types begin with.
    """
    app = Flask(__name__, static_folder="pages/static", static_url_path="/static", template_folder="pages/templates")
    app.config.update(MAX_CONTENT_LENGTH=body.LARGEST_BODY_BYTES, PUBLIC_URL=None, CHECK_ANSWERS=check_answers)
    app.config.from_prefixed_env("FABELLA")
    # A doubled slash is an unknown path, not a reason for a redirect.
    app.url_map.merge_slashes = False
    for resource in _RESOURCES:
        app.register_blueprint(resource.blueprint)
    problems.register(app)
    responses.register(app)
    html_tables.register(app)
    look.register(app)
    loaded = releases if releases is not None else _load()
    serving.attach(app, serving.Serving(loaded, bool(app.config["CHECK_ANSWERS"])))
    return app


def _load() -> Releases | None:
    try:
        found = dataset_releases.load_all()
        warm_up(found.newest)
        return found
    except Exception:
        # Whatever is wrong with the data must not look like a healthy service, nor end in a restart loop that hides it.
        _log.exception("No dataset release could be verified; the service is not ready.")
        return None
