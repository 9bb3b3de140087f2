"""Start the service as a child process, wait until it is ready, and stop it again."""

from __future__ import annotations

import os
import subprocess
import sys
import time
import urllib.error
import urllib.request
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path

import service
from service.cli.ports import LOOPBACK, free_port

_READY_WITHIN_SECONDS = 60
_STOPPED_WITHIN_SECONDS = 15


class ChildError(RuntimeError):
    """The service ended, or was not ready in time."""


@dataclass(frozen=True, slots=True)
class Child:
    """A service that answers at ``url`` and is the process ``pid``."""

    url: str
    pid: int


def is_ready(url: str) -> bool:
    """Whether ``/readyz`` answers 200; any other status is final, since data is loaded before listening."""
    try:
        with urllib.request.urlopen(f"{url}/readyz", timeout=5):
            return True
    except urllib.error.HTTPError as error:
        with error:
            raise ChildError("the service started, but cannot answer: it says why above") from error
    except (urllib.error.URLError, ConnectionError, TimeoutError):
        return False


def _wait_until_ready(process: subprocess.Popen[bytes], url: str) -> None:
    deadline = time.monotonic() + _READY_WITHIN_SECONDS
    while not is_ready(url):
        if process.poll() is not None:
            raise ChildError(f"the service ended with status {process.returncode} before it was ready")
        if time.monotonic() > deadline:
            raise ChildError(f"the service was not ready within {_READY_WITHIN_SECONDS} seconds")
        time.sleep(0.02)


def _stop(process: subprocess.Popen[bytes]) -> None:
    if process.poll() is None:
        process.terminate()
        try:
            process.wait(_STOPPED_WITHIN_SECONDS)
        except subprocess.TimeoutExpired:
            process.kill()
            process.wait()


def own_environment() -> dict[str, str]:
    """Return an environment in which a child imports the very package that is running here."""
    return {**os.environ, "PYTHONPATH": str(Path(service.__file__).parents[1])}


@contextmanager
def serving(
    port: int = 0,
    *,
    command: Sequence[str] = ("service.cli", "serve"),
    arguments: Sequence[str] = (),
    python: str = sys.executable,
    folder: str | None = None,
    environment: dict[str, str] | None = None,
) -> Iterator[Child]:
    """Serve on loopback from a child process for as long as the block runs.

    The child is a session of its own, so that Ctrl-C reaches the caller alone and the caller ends the child in order.
    """
    port = port or free_port()
    # -P: a folder called "service" where the command happens to be typed must not be imported instead.
    line = [python, "-P", "-m", *command, "--port", str(port), "--log-level", "warning", *arguments]
    surroundings = own_environment() if environment is None else environment
    with subprocess.Popen(line, cwd=folder, env=surroundings, start_new_session=True) as process:
        try:
            url = f"http://{LOOPBACK}:{port}"
            _wait_until_ready(process, url)
            yield Child(url, process.pid)
        finally:
            _stop(process)
