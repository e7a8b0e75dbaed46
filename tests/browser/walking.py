"""Somebody who walks through pages: each is looked at, and may be photographed."""

import os
import re
from dataclasses import dataclass, field
from pathlib import Path

from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Locator, Page, expect

from tests import make

# Every page of the journey keeps these; best practices beyond them are not the law.
WCAG = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa"]
PICTURES = os.environ.get("FIRM_TEST_SCREENSHOTS", "")


@dataclass
class Walker:
    """A person at a screen, who reads every page for faults."""

    page: Page
    address: str
    name: str
    pictures: list[str] = field(default_factory=list)
    has_script: bool = True

    def open(self, path: str, picture: str = "") -> None:
        self.page.goto(f"{self.address}{path}")
        if picture:
            self.look(picture)

    def look(self, picture: str) -> None:
        """Hold the page to what every page keeps, and take its picture."""
        if self.has_script:
            self._find_faults(picture)
        self._photograph(picture)

    def _find_faults(self, picture: str) -> None:
        rules = {"runOnly": {"type": "tag", "values": WCAG}}
        found = Axe().run(self.page, options=rules).response["violations"]
        faults = [(fault["id"], fault["nodes"][0]["html"]) for fault in found]
        assert (picture, faults) == (picture, [])
        reach = self.page.evaluate("document.documentElement.scrollWidth")
        width = self.page.viewport_size["width"]
        assert (picture, reach) == (picture, width), "the page scrolls sideways"

    def _photograph(self, picture: str) -> None:
        self.pictures.append(picture)
        if PICTURES:
            where = Path(PICTURES) / str(self.page.viewport_size["width"])
            where.mkdir(parents=True, exist_ok=True)
            name = f"{self.name}-{len(self.pictures):02}-{picture}.png"
            # Hiding the caret would write a style, which the content policy refuses.
            self.page.screenshot(path=where / name, full_page=True, caret="initial")

    def sign_in(self, email: str) -> None:
        self.open("/sign-in/")
        self.page.get_by_label("Email address").fill(email)
        self.page.get_by_label("Password").fill(make.PASSWORD)
        self.page.get_by_role("button", name="Sign in").click()
        expect(self.page).not_to_have_url(re.compile("sign-in"))

    def field(self, label: str) -> Locator:
        """Return a field by its label, whether or not it may be left empty."""
        exactly = re.compile(rf"^\s*{re.escape(label)}(\s*\(if any\))?\s*$")
        return self.page.locator("main").get_by_label(exactly)

    def press(self, button: str) -> None:
        self.page.get_by_role("button", name=button).last.click()

    def reads(self, words: str | re.Pattern[str]) -> None:
        expect(self.page.locator("main")).to_contain_text(words)

    def says(self) -> str:
        return self.page.locator("body").inner_text()
