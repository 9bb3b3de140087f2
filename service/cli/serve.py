"""``fabella serve``: gunicorn, started from Python with settings that suit this service."""

from __future__ import annotations

import gc
import os
import sys
from dataclasses import dataclass, replace

from flask import Flask
from gunicorn.app.base import BaseApplication
from gunicorn.arbiter import Arbiter

from service import create_app
from service.cli.checked_bodies import with_checked_bodies
from service.cli.ports import free_port, port_is_taken

_SHARED_MEMORY = "/dev/shm"  # noqa: S108 - not a file of ours: where gunicorn keeps its heartbeat


@dataclass(frozen=True, slots=True)
class ServeOptions:
    """What a caller may choose; all else is fixed in :func:`settings`."""

    host: str = "127.0.0.1"
    port: int = 8080
    workers: int = 2
    threads: int = 4
    access_log: bool = False
    log_level: str = "info"


def _address(options: ServeOptions) -> str:
    host = f"[{options.host}]" if ":" in options.host else options.host
    return f"{host}:{options.port}"


def settings(options: ServeOptions) -> dict[str, object]:
    """Return gunicorn's settings for these options."""
    chosen: dict[str, object] = {
        "bind": _address(options),
        "workers": options.workers,
        "worker_class": "service.cli.worker.ProblemWorker",
        "threads": options.threads,
        # One load of dataset and schemas, shared by all workers.
        "preload_app": True,
        # Each worker listens for itself, so the kernel spreads connections evenly.
        "reuse_port": True,
        "timeout": 30,
        "graceful_timeout": 10,
        "keepalive": 5,
        # Workers hold no growing state, so none is retired; a leak must show instead of being hidden.
        "max_requests": 0,
        "max_requests_jitter": 0,
        # The largest that gunicorn allows, so that a long address reaches the service and its own problem answer.
        "limit_request_line": 8190,
        "limit_request_fields": 60,
        "limit_request_field_size": 8190,
        "accesslog": "-" if options.access_log else None,
        "loglevel": options.log_level,
        # Nothing here manages a running server, and on a read-only file system the socket only complains.
        "control_socket_disable": True,
    }
    # A heartbeat file on a slow disk can stall a worker past its timeout.
    if os.path.isdir(_SHARED_MEMORY) and os.access(_SHARED_MEMORY, os.W_OK):
        chosen["worker_tmp_dir"] = _SHARED_MEMORY
    return chosen


class Server(BaseApplication):  # type: ignore[misc]  # gunicorn publishes no types
    """Gunicorn's arbiter around :func:`service.create_app`; reads no configuration file and no arguments."""

    def __init__(self, options: ServeOptions) -> None:
        self.options = options
        super().__init__()

    def load_config(self) -> None:
        """Hand our settings over."""
        for name, value in settings(self.options).items():
            self.cfg.set(name, value)
        self.cfg.set("when_ready", self._announce)

    def _announce(self, arbiter: Arbiter) -> None:
        # Gunicorn's own line stays empty with ``reuse_port``, where the workers and not their parent listen.
        arbiter.log.info("Serving on http://%s", _address(self.options))

    def load(self) -> Flask:
        """Build the application once, in the parent of all workers."""
        app = create_app()
        app.wsgi_app = with_checked_bodies(app.wsgi_app)  # type: ignore[assignment]  # the wrapping that Flask documents
        # The collector would otherwise write to every object's header in each worker and so copy shared pages.
        gc.collect()
        gc.freeze()
        return app


def serve(options: ServeOptions) -> int:
    """Serve until a signal ends it; port 0 stands for any free one."""
    chosen = options if options.port else replace(options, port=free_port(options.host))
    # With ``reuse_port`` a second server would start on the same port without a word and take half of the requests.
    if port_is_taken(chosen.host, chosen.port):
        print(
            f"fabella: cannot listen on {_address(chosen)}: it is in use or not an address of this machine. "
            "Choose another with --port.",
            file=sys.stderr,
        )
        return 1
    Server(chosen).run()
    return 0
