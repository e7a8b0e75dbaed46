"""Print HTML as PDF: our own fonts, nothing fetched, read aloud in order.

WeasyPrint takes a second to load, so it is loaded at the first print, in the
worker. One font configuration serves the whole process: a new one a print is
twice as slow and never gives its memory back. Printing is one at a time.
"""

import atexit
import functools
import threading
from pathlib import Path
from typing import TYPE_CHECKING, Literal
from urllib.parse import unquote, urlsplit

from django.conf import settings

from firm.engine.refusal import Refused

if TYPE_CHECKING:
    from weasyprint import CSS
    from weasyprint.text.fonts import FontConfiguration
    from weasyprint.urls import URLFetcher

Variant = Literal["pdf/ua-1", "pdf/a-3b"]

FONTS = Path(__file__).resolve().parent.parent / "static" / "firm" / "fonts" / "paper"
TEMPLATES = settings.BASE_DIR / "templates"
HOUSE_SHEET = "firm/paper/paper.css"
_one_at_a_time = threading.Lock()


def press_html(
    html: str,
    *,
    title: str,
    stylesheets: tuple[str, ...] = (),
    variant: Variant = "pdf/ua-1",
) -> bytes:
    """Print a page; `stylesheets` are names under templates/, after the firm's own."""
    from weasyprint import HTML
    from weasyprint.urls import FatalURLFetchingError

    with _one_at_a_time:
        try:
            page = HTML(string=html, url_fetcher=_fetcher())
            document = page.render(
                stylesheets=[_sheet(name) for name in (HOUSE_SHEET, *stylesheets)],
                font_config=_fonts(),
            )
            document.metadata.title = title
            document.metadata.lang = "en-GB"
            return document.write_pdf(pdf_variant=variant)
        except FatalURLFetchingError as refusal:
            raise Refused(str(refusal)) from None


def warm() -> None:
    """Load what the first print needs, so that no letter waits for it."""
    press_html("<p>Warm</p>", title="Warm")


def may_fetch(url: str) -> bool:
    """Say yes to our own fonts and to pictures that the page carries itself."""
    parts = urlsplit(url)
    if parts.scheme == "data":
        return parts.path.startswith("image/")
    if parts.scheme != "file" or parts.netloc:
        return False
    file = Path(unquote(parts.path)).resolve()
    return file.parent == FONTS and file.suffix == ".ttf"


@functools.cache
def _fonts() -> "FontConfiguration":
    from weasyprint.text.fonts import FontConfiguration

    # Cleared before the interpreter takes apart what its destructor needs.
    atexit.register(_fonts.cache_clear)
    atexit.register(_sheet.cache_clear)
    return FontConfiguration()


@functools.cache
def _sheet(name: str) -> "CSS":
    from weasyprint import CSS

    return CSS(
        string=(TEMPLATES / name).read_text(),
        base_url=FONTS.as_uri() + "/",
        url_fetcher=_fetcher(),
        font_config=_fonts(),
    )


@functools.cache
def _fetcher() -> "URLFetcher":
    from weasyprint.urls import FatalURLFetchingError, URLFetcher, URLFetcherResponse

    class OnlyOurs(URLFetcher):
        def fetch(
            self, url: str, headers: dict[str, str] | None = None
        ) -> URLFetcherResponse:
            if not may_fetch(url):
                raise FatalURLFetchingError(
                    f"The paper asks for {url[:80]}, which is not the firm's own."
                )
            return super().fetch(url, headers)

    return OnlyOurs(allow_redirects=False)
