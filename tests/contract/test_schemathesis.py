"""Generated requests over all phases with all checks: in process and against a live gunicorn."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path
from typing import Any, cast

import pytest
import schemathesis
from hypothesis import HealthCheck, settings
from schemathesis.checks import CHECKS

from service import create_app
from service.cli.child import serving
from tests.contract import batch_bodies

_HERE = Path(batch_bodies.__file__).parent
_CONFIG = _HERE / "schemathesis.toml"
_PHASES = "examples,coverage,fuzzing,stateful"


def _run(url: str, examples: int) -> subprocess.CompletedProcess[str]:
    """Run the command-line tool, which knows the coverage and stateful phases; nothing is kept between runs."""
    command = [
        str(Path(sys.executable).with_name("schemathesis")),
        "--config-file",
        str(_CONFIG),
        "run",
        f"{url}/openapi.json",
        *("--phases", _PHASES),
        *("--checks", "all"),
        *("--max-examples", str(examples)),
        *("--generation-database", "none"),
        "--no-color",
    ]
    surroundings = {**os.environ, "SCHEMATHESIS_HOOKS": str(_HERE / "batch_bodies.py")}
    return subprocess.run(command, capture_output=True, text=True, check=False, env=surroundings)


def test_all_phases_against_a_live_server() -> None:
    with serving() as child:
        result = _run(child.url, 8)
    assert result.returncode == 0, result.stdout[-6000:]


@pytest.mark.fuzz
def test_all_phases_against_a_live_server_for_long() -> None:
    with serving() as child:
        result = _run(child.url, 1000)
    assert result.returncode == 0, result.stdout[-6000:]


schema = schemathesis.openapi.from_wsgi(
    "/openapi.json", create_app(check_answers=True), config=schemathesis.Config.from_path(_CONFIG)
)


@schema.parametrize()
@settings(max_examples=15, database=None, suppress_health_check=list(HealthCheck))
def test_every_operation_in_process(case: schemathesis.Case[Any]) -> None:
    # The library types its own list of checks more narrowly than what it accepts.
    case.call_and_validate(checks=cast("list[Any]", CHECKS.get_all()))
