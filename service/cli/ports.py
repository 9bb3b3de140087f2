"""Questions about TCP ports of this machine."""

from __future__ import annotations

import socket

LOOPBACK = "127.0.0.1"


def _probe(host: str) -> socket.socket:
    return socket.socket(socket.AF_INET6 if ":" in host else socket.AF_INET)


def free_port(host: str = LOOPBACK) -> int:
    """Return a port that was free a moment ago."""
    with _probe(host) as probe:
        probe.bind((host, 0))
        port: int = probe.getsockname()[1]
    return port


def port_is_taken(host: str, port: int) -> bool:
    """Whether nobody can listen there: another program does, or the address is not of this machine."""
    with _probe(host) as probe:
        probe.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        try:
            probe.bind((host, port))
        except OSError:
            return True
    return False
