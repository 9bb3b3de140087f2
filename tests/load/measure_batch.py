"""Measure batches: rows a second by operation and format, and the memory of the worker that answers them.

    python -m tests.load.measure_batch

One worker answers over real HTTP; the answer is read as it comes and thrown away. Memory is the highest that the worker
held at any moment (VmHWM), measured anew for each batch.
"""

from __future__ import annotations

import argparse
import http.client
import json
import re
import time
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from urllib.parse import urlsplit

from service.cli.child import Child, serving
from service.cli.text_table import table
from tests.load import processes

_PIECE_BYTES = 1 << 16


@dataclass(frozen=True, slots=True)
class Measured:
    """One batch: how fast it was, how much came back, and what the worker held at most."""

    seconds: float
    answer_bytes: int
    peak_mib: float


def dose_csv(rows: int) -> bytes:
    """Write dose rows no two of which are alike."""
    lines = [f"invented-{row},dog,{1 + row * 7919 % 1_180_000 / 10_000:.4f},glucosamine" for row in range(rows)]
    return "\n".join(("name,species,weight_kg,ingredient", *lines, "")).encode()


def dose_ndjson(rows: int) -> bytes:
    """Write the same rows as objects."""
    return b"".join(
        json.dumps({"species": "dog", "weight_kg": 1 + row % 110 + row % 7 / 10, "ingredient": "glucosamine"}).encode()
        + b"\n"
        for row in range(rows)
    )


def normalise_csv(rows: int) -> bytes:
    """Write products of two facts."""
    head = "id,unit_count,price,currency,serving_units,fact_1_name,fact_1_amount,fact_2_name,fact_2_amount\n"
    lines = (
        f"p{row},120,{10 + row % 90}.50,USD,2,Glucosamine HCl,{500 + row % 900} mg,MSM,400 mg\n" for row in range(rows)
    )
    return (head + "".join(lines)).encode()


def screen_csv(rows: int) -> bytes:
    """Write ingredient lists with a medicine."""
    head = "name,species,weight,ingredients_text,medications\n"
    lines = (
        f'invented-{row},dog,{5 + row % 60} kg,"glucosamine HCl, willow bark, rice",carprofen\n' for row in range(rows)
    )
    return (head + "".join(lines)).encode()


def reset_peak(pid: int) -> None:
    """Let the kernel measure the peak of a process anew."""
    Path(f"/proc/{pid}/clear_refs").write_text("5")


def peak_mib(pid: int) -> float:
    """Return the highest resident size since the last reset."""
    found = re.search(r"^VmHWM:\s+([0-9]+) kB", Path(f"/proc/{pid}/status").read_text(), re.MULTILINE)
    if found is None:
        raise RuntimeError(f"process {pid} has no memory of its own")
    return int(found[1]) / 1024


def ask(server: Child, path: str, media_type: str, body: bytes) -> Measured:
    """Send one batch and read its answer piece by piece."""
    worker = processes.workers_of(server.pid)[0]
    address = urlsplit(server.url)
    connection = http.client.HTTPConnection(address.hostname or "", address.port, timeout=600)
    reset_peak(worker)
    started = time.perf_counter()
    connection.request("POST", path, body, {"Content-Type": media_type})
    with connection.getresponse() as response:
        if response.status != 200:
            raise RuntimeError(f"{path} answered {response.status}: {response.read(500)!r}")
        received = 0
        while piece := response.read(_PIECE_BYTES):
            received += len(piece)
    seconds = time.perf_counter() - started
    connection.close()
    return Measured(seconds, received, peak_mib(worker))


def run(sizes: tuple[int, ...], slow_rows: int) -> None:
    """Measure dose at every size, then the other batches at one."""
    wanted: list[tuple[str, str, str, Callable[[int], bytes], int]] = [
        ("dose, CSV", "/v1/batch/dose", "text/csv", dose_csv, rows) for rows in sizes
    ]
    wanted += [
        ("dose, NDJSON, whole answers", "/v1/batch/dose", "application/x-ndjson", dose_ndjson, slow_rows),
        ("dose, NDJSON, ids", "/v1/batch/dose?detail=ids", "application/x-ndjson", dose_ndjson, slow_rows),
        ("normalise, CSV", "/v1/batch/normalise", "text/csv", normalise_csv, slow_rows),
        ("screen, CSV", "/v1/batch/screen", "text/csv", screen_csv, slow_rows),
    ]
    lines = []
    with serving(arguments=("--workers", "1")) as server:
        for name, path, media_type, make, rows in wanted:
            body = make(rows)
            found = ask(server, path, media_type, body)
            lines.append(
                (
                    name,
                    f"{rows:,}",
                    f"{rows / found.seconds:,.0f}",
                    f"{len(body) / 2**20:.1f}",
                    f"{found.answer_bytes / 2**20:.1f}",
                    f"{found.peak_mib:.1f}",
                )
            )
    print(table(("batch", "rows", "rows a second", "MiB sent", "MiB answered", "worker's peak MiB"), lines))


def main() -> None:
    """Read the options and run."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--rows", type=int, nargs="+", default=(1_000, 10_000, 100_000), help="sizes of dose batches")
    parser.add_argument("--slow-rows", type=int, default=10_000, help="size of the other batches")
    chosen = parser.parse_args()
    run(tuple(chosen.rows), chosen.slow_rows)


if __name__ == "__main__":
    main()
