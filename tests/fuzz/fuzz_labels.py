"""Read texts that a coverage-guided fuzzer makes: none may raise, none may take more than a second.

    python -m tests.fuzz.fuzz_labels -max_total_time=600

By hand, not in the checks; needs the extra `fuzz` (atheris, which is libFuzzer). Seeds are the label cases and the
corpus of names. A finding is told once per place and written to a folder of its own, and the run goes on. With `--laws`
every reading is also held against the laws of ``tests/domain/labels/laws.py``, which is slower.
"""

from __future__ import annotations

import csv
import hashlib
import re
import subprocess
import sys
import tempfile
import traceback
from pathlib import Path
from time import perf_counter
from zlib import crc32

import atheris

with atheris.instrument_imports(include=["service.domain"]):
    from service.domain.labels.assembling import LONGEST_LABEL, read_label

from service.reference.release import Reference
from service.reference.releases import load_working_tables
from service.schemas.request_base import forbidden_character
from service.web.wire import dump, to_wire
from tests.domain.labels.invented_labels import GLUE, HEADINGS, NAMES, NUMBERS, UNITS
from tests.domain.labels.laws import read_by_the_laws

LONGEST_SECONDS = 1.0
ONE_IN = 50
READ_ONCE = """
import sys
from time import perf_counter
from service.domain.labels.assembling import read_label
from service.reference.releases import load_working_tables

reference, text = load_working_tables(), sys.stdin.read()
read_label(reference, "MSM 500 mg")
start = perf_counter()
read_label(reference, text)
print(perf_counter() - start)
"""
DATA = Path(__file__).parent.parent / "data"


class Findings:
    """What went wrong, once per place."""

    def __init__(self, folder: Path) -> None:
        self._folder, self._seen = folder, set[str]()
        folder.mkdir(parents=True, exist_ok=True)

    def tell(self, place: str, detail: str, text: str) -> None:
        """Print a finding and keep its text, unless one of that place was told before."""
        if place in self._seen:
            return
        self._seen.add(place)
        file = self._folder / f"{hashlib.sha256(text.encode()).hexdigest()[:16]}.txt"
        file.write_text(text, encoding="utf-8", newline="")
        print(f"FINDING {len(self._seen)} {place}: {detail[:300]} | {text[:200]!r} | {file}", flush=True)


class Target:
    """Reads one text; the fuzzer calls it with bytes."""

    def __init__(self, reference: Reference, findings: Findings, by_the_laws: bool) -> None:
        self._reference, self._findings, self._by_the_laws = reference, findings, by_the_laws

    def __call__(self, data: bytes) -> None:
        """Read the bytes as the text of a label."""
        text = data.decode("utf-8", "ignore")[:LONGEST_LABEL]
        if text and forbidden_character(text) is None:
            self._read(text)
            if crc32(data) % ONE_IN == 0:
                # The fuzzer grows its texts slowly; what takes long shows where one is repeated to the greatest length.
                self._read((text * LONGEST_LABEL)[:LONGEST_LABEL])

    def _read(self, text: str) -> None:
        start = perf_counter()
        try:
            dump(to_wire(read_label(self._reference, text)))
        except Exception as error:
            last = traceback.extract_tb(error.__traceback__)[-1]
            self._findings.tell(f"{type(error).__name__} in {last.name}:{last.lineno}", str(error), text)
            return
        watched = perf_counter() - start
        if watched > LONGEST_SECONDS:
            # Watching every branch makes a reading several times slower: what counts is the time without it.
            seconds = unwatched_seconds(text)
            if seconds > LONGEST_SECONDS:
                self._findings.tell("slow", f"{seconds:.2f} s", text)
            print(f"{watched:.2f} s while watched, {seconds:.2f} s otherwise: {text[:40]!r}", flush=True)
        if self._by_the_laws:
            self._hold(text)

    def _hold(self, text: str) -> None:
        try:
            read_by_the_laws(self._reference, text)
        except Exception as error:
            # The first words name the law that is broken, what follows only the example.
            law = re.split(r"[:0-9'#]| of ", str(error))[0].strip()
            self._findings.tell(f"{type(error).__name__} {law}", str(error), text)


def unwatched_seconds(text: str) -> float:
    """Read a text in a process of its own, where nothing is instrumented; give the seconds of the first reading."""
    told = subprocess.run([sys.executable, "-c", READ_ONCE], input=text, capture_output=True, text=True, check=True)
    return float(told.stdout)


def seeds() -> list[str]:
    """Give the texts that the fuzzer starts from."""
    found = []
    for name, column in (("label_cases.csv", "text"), ("name_corpus.csv", "phrase")):
        with (DATA / name).open(encoding="utf-8", newline="") as file:
            found += [row[column] for row in csv.DictReader(file)]
    return found


def write_words(file: Path) -> None:
    """Write the pieces of invented labels as a dictionary of libFuzzer."""
    pieces = sorted({*NAMES, *NUMBERS, *UNITS, *HEADINGS, *GLUE} - {""})
    escaped = ("".join(f"\\x{byte:02x}" for byte in piece.encode()) for piece in pieces)
    file.write_text("".join(f'"{piece}"\n' for piece in escaped), encoding="utf-8")


def main() -> None:
    """Run libFuzzer with the options given; it ends the process itself."""
    arguments = [one for one in sys.argv[1:] if one != "--laws"]
    folder = Path(tempfile.mkdtemp(prefix="fabella-fuzz-"))
    corpus = folder / "corpus"
    corpus.mkdir()
    for at, text in enumerate(seeds()):
        (corpus / f"seed-{at}").write_text(text, encoding="utf-8", newline="")
    write_words(folder / "words")
    target = Target(load_working_tables(), Findings(folder / "findings"), "--laws" in sys.argv)
    options = [f"-dict={folder / 'words'}", "-max_len=20000", "-timeout=20", "-print_final_stats=1"]
    atheris.Setup([sys.argv[0], *options, *arguments, str(corpus)], target)
    atheris.Fuzz()


if __name__ == "__main__":
    main()
