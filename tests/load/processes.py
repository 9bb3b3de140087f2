"""What the kernel knows of a server's processes: processor time and memory (Linux)."""

from __future__ import annotations

import os
import re
from pathlib import Path

_TICKS_PER_SECOND = os.sysconf("SC_CLK_TCK")


def workers_of(pid: int) -> list[int]:
    """Return the child processes of a gunicorn parent."""
    return [int(child) for child in Path(f"/proc/{pid}/task/{pid}/children").read_text().split()]


def cpu_seconds(pids: list[int]) -> float:
    """Return user and system time spent by these processes so far."""
    ticks = 0
    for pid in pids:
        # Field 2 is the command in brackets and may hold blanks: count from behind it.
        fields = Path(f"/proc/{pid}/stat").read_text().rpartition(")")[2].split()
        ticks += int(fields[11]) + int(fields[12])
    return ticks / _TICKS_PER_SECOND


def memory_mib(pid: int) -> float:
    """Return the proportional set size: shared pages count in equal parts to those that share them."""
    rollup = Path(f"/proc/{pid}/smaps_rollup").read_text()
    found = re.search(r"^Pss: +([0-9]+) kB", rollup, re.MULTILINE)
    if found is None:
        raise RuntimeError(f"process {pid} has no memory of its own")
    return int(found[1]) / 1024
