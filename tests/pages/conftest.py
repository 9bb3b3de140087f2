"""The working tables, loaded once: presenters are tested on real data."""

from __future__ import annotations

import pytest

from service.reference.release import Reference
from service.reference.releases import load_working_tables


@pytest.fixture(scope="session")
def reference() -> Reference:
    """Give the working copy of the dataset."""
    return load_working_tables()
