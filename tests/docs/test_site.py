"""The documentation site builds from docs/ without a warning, and its generated pages are up to date."""

from __future__ import annotations

import re
import subprocess
import sys
from html.parser import HTMLParser
from pathlib import Path

import pytest

import redoxlib

from . import command_line

ROOT = Path(__file__).parents[2]
DOCS = ROOT / "docs"


@pytest.fixture(scope="module")
def site(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Built once, every warning an error."""
    made = tmp_path_factory.mktemp("site")
    build = subprocess.run(
        [sys.executable, "-m", "sphinx", "-W", "--keep-going", "-q", "-b", "html", str(DOCS), str(made)],
        capture_output=True,
        text=True,
        check=False,
        cwd=ROOT,
    )
    assert build.returncode == 0, build.stderr
    return made


class _Links(HTMLParser):
    def __init__(self) -> None:
        super().__init__()
        self.anchors: set[str] = set()
        self.targets: list[str] = []
        self.loads: list[str] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        found = dict(attrs)
        if found.get("id"):
            self.anchors.add(str(found["id"]))
        if tag == "a" and found.get("href"):
            self.targets.append(str(found["href"]))
        for name in ("src", "srcset") if tag != "link" else ("href",):
            if found.get(name):
                self.loads.append(str(found[name]))


def _read(page: Path) -> _Links:
    links = _Links()
    links.feed(page.read_text(encoding="utf-8"))
    return links


def test_every_link_of_the_site_leads_to_a_page_and_a_place_on_it(site: Path) -> None:
    pages = {page: _read(page) for page in site.rglob("*.html")}
    assert len(pages) > 25
    for page, links in pages.items():
        for target in links.targets:
            if re.match(r"[a-z]+:", target):
                continue
            path, _, place = target.partition("#")
            other = (page.parent / path).resolve() if path else page
            assert other.exists(), f"{page.name}: {target}"
            if place and other in pages:
                assert place in pages[other].anchors, f"{page.name}: {target}"


def test_no_page_loads_anything_from_elsewhere(site: Path) -> None:
    for page in site.rglob("*.html"):
        assert [one for one in _read(page).loads if re.match(r"(https?:)?//", one)] == [], page.name


def test_the_reference_names_every_public_name(site: Path) -> None:
    places = set().union(*(_read(page).anchors for page in (site / "reference").glob("*.html")))
    for name in redoxlib.__all__:
        value = getattr(redoxlib, name)
        home = getattr(value, "__module__", None)
        if not isinstance(home, str):
            continue
        public = re.sub(r"\._\w+", "", home)
        assert {f"{public}.{name}", f"redoxlib.{name}"} & places, f"{name} of {home} is not in the reference"


def test_every_page_stands_in_the_contents(site: Path) -> None:
    contents = _read(site / "index.html").targets
    for page in [*DOCS.rglob("*.md")]:
        name = page.relative_to(DOCS).with_suffix(".html").as_posix()
        assert name == "index.html" or name.startswith("reference/") or name in contents, name


def test_the_command_line_page_is_written_from_the_parser() -> None:
    """Write it anew with ``python -m tests.docs.command_line``."""
    assert command_line.PAGE.read_text(encoding="utf-8") == command_line.page()
