"""``python -m service.cli``: the same as ``fabella``, for a checkout that is not installed."""

import sys

from service.cli.commands import main

sys.exit(main())
