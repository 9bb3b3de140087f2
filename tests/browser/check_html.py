"""Holds every kind of page against the HTML standard: ``python -m tests.browser.check_html path/to/vnu.jar``.

The Nu HTML checker (npm package ``vnu-jar``, needs Java) reads the pages as the service sends them. Run by ``.ci/run``.
"""

from __future__ import annotations

import re
import subprocess
import sys
from collections import deque
from pathlib import Path
from tempfile import TemporaryDirectory
from urllib.parse import urlsplit

from flask.testing import FlaskClient

from service import create_app
from tests.browser.pages import PAGES
from tests.web.test_plan import plan_body

_LINK = re.compile(r'href="(/docs[^"#?]*)')
# What a documentation interface from elsewhere makes of its own page is not ours to check.
_NOT_OURS = ("/docs/console",)


def written_pages(client: FlaskClient) -> dict[str, str]:
    """Fetch every kind of page, all guides that the documentation links to, and pages that answer a form."""
    found = {path: _page(client, path) for path in PAGES.values()}
    waiting = deque(_LINK.findall(found["/docs"]))
    while waiting:
        path = waiting.popleft()
        if path in found or path.startswith(_NOT_OURS) or "." in path.rsplit("/", 1)[-1]:
            continue
        found[path] = _page(client, path)
        waiting.extend(_LINK.findall(found[path]))
    found["/v1/plan.html"] = client.post("/v1/plan.html", json=plan_body()).get_data(as_text=True)
    return found


def _page(client: FlaskClient, path: str) -> str:
    response = client.get(path)
    if response.mimetype != "text/html":
        raise SystemExit(f"{path} answers {response.status} {response.content_type}")
    return response.get_data(as_text=True)


def main() -> int:
    """Check all pages; print what is wrong with which, and return the number of wrong ones."""
    jar = sys.argv[1]
    pages = written_pages(create_app().test_client())
    with TemporaryDirectory() as folder:
        names = {}
        for number, (path, text) in enumerate(pages.items()):
            file = Path(folder, f"{number:03}.html")
            file.write_text(text, "utf-8")
            names[file.name] = urlsplit(path).path
        files = sorted(str(file) for file in Path(folder).glob("*.html"))
        command = ["java", "-jar", jar, "--stdout", "--errors-only", "--format", "gnu", *files]
        done = subprocess.run(command, capture_output=True, text=True, check=False)
        said = done.stdout.splitlines()
    wrong = {name: path for name, path in names.items() if any(name in line for line in said)}
    for line in said:
        name = next((name for name in names if name in line), "")
        print(names.get(name, ""), line.partition(name)[2] or line)
    print(f"{len(pages)} pages, {len(wrong)} with something to mend")
    return len(wrong) or done.returncode


if __name__ == "__main__":
    raise SystemExit(main())
