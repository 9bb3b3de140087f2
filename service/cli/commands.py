"""Arguments of ``fabella`` and which function each subcommand calls."""

from __future__ import annotations

import argparse
from collections.abc import Sequence
from datetime import date
from pathlib import Path

# Subcommands import their modules when they run: `fabella dataset check` needs no web server,
# and every import that `fabella serve` does not need would delay its being ready.


def _serve(options: argparse.Namespace) -> int:
    from service.cli.serve import ServeOptions, serve

    return serve(
        ServeOptions(
            host=options.host,
            port=options.port,
            workers=options.workers,
            threads=options.threads,
            access_log=options.access_log,
            log_level=options.log_level,
        )
    )


def _demo(options: argparse.Namespace) -> int:
    from service.cli.demo import demo

    return demo(port=options.port, once=options.once)


def _batch(options: argparse.Namespace) -> int:
    from service.cli.batch import BatchOptions, batch

    return batch(
        BatchOptions(
            file=options.file,
            operation=options.operation,
            output=options.output,
            dataset=options.dataset,
            separator=options.separator,
            detail=options.detail,
            restart=options.restart,
        )
    )


def _dataset_check(options: argparse.Namespace) -> int:
    from service.cli.dataset import check

    return check(options.path)


def _dataset_release(options: argparse.Namespace) -> int:
    from service.cli.dataset import release

    return release(options.path, options.version, options.released, options.note)


def _dataset_refresh(options: argparse.Namespace) -> int:
    from service.cli.dataset import refresh

    return refresh(options.path)


def _dataset_list(options: argparse.Namespace) -> int:
    from service.cli.dataset import list_releases

    return list_releases()


def _port(text: str) -> int:
    port = int(text)
    if not 0 <= port <= 65535:
        raise ValueError(text)
    return port


def _positive(text: str) -> int:
    number = int(text)
    if number < 1:
        raise ValueError(text)
    return number


def _add_serve(commands: argparse._SubParsersAction[argparse.ArgumentParser]) -> None:
    serve = commands.add_parser("serve", help="answer requests until interrupted")
    serve.add_argument("--host", default="127.0.0.1", help="address to listen on (default: this machine only)")
    serve.add_argument("--port", type=_port, default=8080, help="port to listen on (default: 8080)")
    serve.add_argument("--workers", type=_positive, default=2, help="processes (default: 2)")
    serve.add_argument("--threads", type=_positive, default=4, help="threads in each process (default: 4)")
    serve.add_argument("--access-log", action="store_true", help="write one line per request to standard output")
    serve.add_argument(
        "--log-level", choices=("debug", "info", "warning", "error"), default="info", help="default: info"
    )
    serve.set_defaults(run=_serve)


def _add_demo(commands: argparse._SubParsersAction[argparse.ArgumentParser]) -> None:
    demo = commands.add_parser("demo", help="start the service and show an invented case over real HTTP")
    demo.add_argument("--once", action="store_true", help="show it, stop the service and leave")
    demo.add_argument("--port", type=_port, default=0, help="port to listen on (default: any free one)")
    demo.set_defaults(run=_demo)


def _add_batch(commands: argparse._SubParsersAction[argparse.ArgumentParser]) -> None:
    batch = commands.add_parser(
        "batch",
        help="answer every row of a file; goes on where an interrupted run stopped",
        description="Answers every row of FILE as the service does at /v1/batch/. After an interruption the same "
        "command goes on behind the last complete row.",
    )
    batch.add_argument(
        "file", type=Path, metavar="FILE", help="ends in .csv, .ndjson or .jsonl, packed in .gz after it"
    )
    batch.add_argument("--operation", required=True, choices=("dose", "normalise", "screen"))
    batch.add_argument("--output", type=Path, help="file to write (default: FILE with .answered before its ending)")
    batch.add_argument("--dataset", help="dataset release to answer from (default: the newest)")
    batch.add_argument("--separator", choices=("comma", "semicolon", "tab"), help="of CSV (default: comma)")
    batch.add_argument("--detail", choices=("full", "ids"), help="of NDJSON: ids leaves citations out (default: full)")
    batch.add_argument("--restart", action="store_true", help="throw away what an interrupted run has written")
    batch.set_defaults(run=_batch)


def _add_dataset(commands: argparse._SubParsersAction[argparse.ArgumentParser]) -> None:
    dataset = commands.add_parser("dataset", help="check, freeze and list the reference data")
    actions = dataset.add_subparsers(title="actions", required=True, metavar="ACTION")
    check = actions.add_parser("check", help="verify tables, keys, hashes and sources; name every defect")
    check.add_argument("path", nargs="?", help="dataset folder (default: the one beside the sources)")
    check.set_defaults(run=_dataset_check)
    refresh = actions.add_parser("refresh", help="bring bytes, hashes and examples of the descriptor up to date")
    refresh.add_argument("path", nargs="?", help="dataset folder (default: the one beside the sources)")
    refresh.set_defaults(run=_dataset_refresh)
    release = actions.add_parser("release", help="freeze the working tables as a release")
    release.add_argument("version", help="version to give it, for example 1.1.0")
    release.add_argument("--path", help="dataset folder (default: the one beside the sources)")
    release.add_argument("--released", type=date.fromisoformat, help="date of release, YYYY-MM-DD (default: today)")
    release.add_argument(
        "--note", action="append", default=[], help="why something changed, for the change log; may be repeated"
    )
    release.set_defaults(run=_dataset_release)
    listing = actions.add_parser("list", help="list the releases that this installation can answer from")
    listing.set_defaults(run=_dataset_list)


def parser() -> argparse.ArgumentParser:
    """Return the parser of the whole command line."""
    top = argparse.ArgumentParser(
        prog="fabella",
        description="Daily amounts, cost and warnings for joint supplements of dogs and cats. "
        "Information, not a prescription: ask a veterinarian.",
    )
    commands = top.add_subparsers(title="commands", required=True, metavar="COMMAND")
    _add_serve(commands)
    _add_demo(commands)
    _add_batch(commands)
    _add_dataset(commands)
    return top


def main(arguments: Sequence[str] | None = None) -> int:
    """Run one subcommand; return its exit status: 0 good, 1 found or failed, 2 wrong arguments."""
    options = parser().parse_args(arguments)
    status: int = options.run(options)
    return status
