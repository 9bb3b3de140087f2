"""The application with the real releases, every answer held against its schema."""

from __future__ import annotations

import pytest
from flask import Flask
from flask.testing import FlaskClient

from service import create_app
from service.reference import releases as dataset_releases
from service.reference.releases import Releases


@pytest.fixture(scope="session")
def releases() -> Releases:
    """Load and verify the releases once."""
    return dataset_releases.load_all()


@pytest.fixture(scope="session")
def app(releases: Releases) -> Flask:
    """Build an application in which a failure of our own raises instead of becoming a problem."""
    app = create_app(releases, check_answers=True)
    app.testing = True
    return app


@pytest.fixture
def client(app: Flask) -> FlaskClient:
    """Give a client that speaks to the application in process."""
    return app.test_client()
