"""The ``fabella`` command. Thin: each subcommand reads its arguments and calls one function."""

from service.cli.commands import main

__all__ = ["main"]
