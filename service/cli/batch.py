"""``fabella batch``: answer a file row by row, and go on where an interrupted run stopped."""

from __future__ import annotations

import gzip
import shlex
import sys
import zlib
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import IO, cast

from service.cli.batch_output import Output, OutputError, Settings, file_sha256
from service.cli.progress import Progress
from service.reference.releases import DefectiveRelease, UnknownVersion, load_all
from service.version import VERSION
from service.web.batch.views import TASKS, Rows, rows_for
from service.web.envelope import Envelope
from service.web.faults import Fault

OPERATIONS = tuple(TASKS)
_FORMS = {".csv": "csv", ".ndjson": "ndjson", ".jsonl": "jsonl"}
# What is answered between two safe points; an interruption costs at most so many rows.
ROWS_AT_ONCE = 500
_INTERRUPTED = 130


class BatchError(Exception):
    """A file that cannot be answered; its text is for people."""


@dataclass(frozen=True, slots=True)
class BatchOptions:
    """What a caller asks for; ``output`` and ``dataset`` may be left to us."""

    file: Path
    operation: str
    output: Path | None = None
    dataset: str | None = None
    separator: str | None = None
    detail: str | None = None
    restart: bool = False


def batch(options: BatchOptions) -> int:
    """Answer every row of a file; 0 when the output is complete, 1 when it cannot be, 130 when interrupted."""
    try:
        return _run(options)
    except (BatchError, OutputError) as error:
        print(f"fabella: {error}", file=sys.stderr)
    except Fault as fault:
        print(f"fabella: {options.file}: {fault.detail}", file=sys.stderr)
    except UnknownVersion as error:
        print(f"fabella: there is no dataset release {error}; see fabella dataset list", file=sys.stderr)
    except DefectiveRelease as error:
        print(f"fabella: {error}", file=sys.stderr)
    except (gzip.BadGzipFile, EOFError, zlib.error) as error:
        print(f"fabella: {options.file}: {error}", file=sys.stderr)
    except OSError as error:
        print(f"fabella: {error}", file=sys.stderr)
    except KeyboardInterrupt:
        print("\nfabella: interrupted before the next row was answered; nothing is lost", file=sys.stderr)
        return _INTERRUPTED
    return 1


def _run(options: BatchOptions) -> int:
    form, packed = _form_of(options.file)
    target = options.output or _usual_output(options.file)
    rows = rows_for(TASKS[options.operation], form, {"separator": options.separator, "detail": options.detail})
    with Output(target, restart=options.restart) as output:
        if target.exists():
            raise BatchError(f"{target} is there already; remove it, or name another with --output")
        releases = load_all()
        # Without a release named, the one that an interrupted run began with serves to the end.
        begun_with = output.begun_with.dataset if output.begun_with else releases.newest.stamp.version
        settings = _settings(options, begun_with)
        release = Envelope(releases.get(settings.dataset))
        with _opened(options.file, packed) as stream:
            total = rows.check(stream, None)
        output.begin(settings)
        if output.rows:
            print(f"fabella: going on after row {output.rows:,} of {total:,}", file=sys.stderr)
        try:
            with _opened(options.file, packed) as stream, Progress(total, output.rows) as progress:
                _answer(rows, stream, release, output, progress)
        except KeyboardInterrupt:
            print(_how_to_go_on(options, output, total), file=sys.stderr)
            return _INTERRUPTED
        if file_sha256(options.file) != settings.sha256:
            raise BatchError(f"{options.file} was changed while it was answered; run the same with --restart")
        output.finish()
        print(f"fabella: {target}: {total:,} rows, {output.refused:,} of them refused", file=sys.stderr)
    return 0


def _answer(rows: Rows, stream: IO[bytes], release: Envelope, output: Output, progress: Progress) -> None:
    if not output.begun:
        output.add([rows.head()], rows=0, refused=0)
    gathered: list[bytes] = []
    refused = 0
    for line, accepted in rows.answers(stream, release, output.rows):
        gathered.append(line)
        refused += not accepted
        if len(gathered) == ROWS_AT_ONCE:
            output.add(gathered, rows=len(gathered), refused=refused)
            gathered, refused = [], 0
            progress.show(output.rows, output.refused)
    if gathered:
        output.add(gathered, rows=len(gathered), refused=refused)
        progress.show(output.rows, output.refused)


def _settings(options: BatchOptions, usual_dataset: str) -> Settings:
    return Settings(
        sha256=file_sha256(options.file),
        operation=options.operation,
        dataset=options.dataset or usual_dataset,
        separator=options.separator,
        detail=options.detail,
        service=VERSION,
    )


def _form_of(file: Path) -> tuple[str, bool]:
    packed = file.suffix == ".gz"
    form = _FORMS.get(Path(file.stem if packed else file.name).suffix)
    if form is None:
        raise BatchError(f"{file}: the name must end in {', '.join(_FORMS)}, or in one of these and .gz")
    return form, packed


def _usual_output(file: Path) -> Path:
    packed = ".gz" if file.suffix == ".gz" else ""
    plain = Path(file.stem if packed else file.name)
    return file.with_name(f"{plain.stem}.answered{plain.suffix}{packed}")


def _opened(file: Path, packed: bool) -> IO[bytes]:
    return cast("IO[bytes]", gzip.open(file)) if packed else file.open("rb")


def _how_to_go_on(options: BatchOptions, output: Output, total: int) -> str:
    words = [*("fabella", "batch"), str(options.file), "--operation", options.operation]
    words += [word for name, value in _given(options) for word in (f"--{name}", value)]
    return (
        f"\nfabella: interrupted; {output.rows:,} of {total:,} rows are kept in {output.part}.\n"
        f"Go on with the same command: {shlex.join(words)}"
    )


def _given(options: BatchOptions) -> Iterator[tuple[str, str]]:
    for name in ("output", "dataset", "separator", "detail"):
        value = getattr(options, name)
        if value is not None:
            yield name, str(value)
