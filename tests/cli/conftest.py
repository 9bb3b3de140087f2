"""A service of its own process for the tests of the command line."""

from __future__ import annotations

from collections.abc import Iterator

import pytest

from service.cli.child import Child, serving


@pytest.fixture(scope="session")
def live() -> Iterator[Child]:
    """Serve as ``fabella serve`` does."""
    with serving() as child:
        yield child
