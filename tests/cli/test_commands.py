"""Arguments of ``fabella``."""

from __future__ import annotations

import pytest

from service.cli import main
from service.cli.commands import parser


def test_serve_listens_on_this_machine_only_unless_told() -> None:
    options = parser().parse_args(["serve"])
    assert (options.host, options.port, options.workers, options.threads) == ("127.0.0.1", 8080, 2, 4)


@pytest.mark.parametrize(
    "arguments",
    [
        [],
        ["serve", "--port", "65536"],
        ["serve", "--port", "-1"],
        ["serve", "--workers", "0"],
        ["serve", "--threads", "many"],
        ["demo", "--twice"],
        ["dataset"],
        ["dataset", "release", "1.1.0", "--released", "tomorrow"],
    ],
)
def test_wrong_arguments_are_refused_with_status_2(arguments: list[str], capsys: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(SystemExit) as refused:
        main(arguments)
    assert refused.value.code == 2
    assert "usage: fabella" in capsys.readouterr().err


def test_help_says_what_it_is_not(capsys: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(SystemExit) as left:
        main(["--help"])
    assert left.value.code == 0
    assert "not a prescription" in capsys.readouterr().out
