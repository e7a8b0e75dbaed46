"""WeasyPrint, set up once a process.

One font configuration serves every print: a new one each time is twice as slow
and never gives its memory back. Printing is one at a time in a process.
"""

import atexit
import functools
import threading
from pathlib import Path
from urllib.parse import unquote, urlsplit

from django.conf import settings
from weasyprint import CSS, HTML
from weasyprint.text.fonts import FontConfiguration
from weasyprint.urls import FatalURLFetchingError, URLFetcher, URLFetcherResponse

from firm.engine.refusal import Refused

FONTS = Path(__file__).resolve().parent.parent / "static" / "firm" / "fonts" / "paper"
TEMPLATES = settings.BASE_DIR / "templates"
_one_at_a_time = threading.Lock()


class OnlyOurs(URLFetcher):
    """Fetches our own fonts and what a page carries itself; ends the print else."""

    def fetch(
        self, url: str, headers: dict[str, str] | None = None
    ) -> URLFetcherResponse:
        if not may_fetch(url):
            raise FatalURLFetchingError(
                f"The paper asks for {url[:80]}, which is not the firm's own."
            )
        return super().fetch(url, headers)


_fetcher = OnlyOurs(allow_redirects=False)


def may_fetch(url: str) -> bool:
    """Say yes to our own fonts and to pictures that the page carries itself."""
    parts = urlsplit(url)
    if parts.scheme == "data":
        return parts.path.startswith("image/")
    if parts.scheme != "file" or parts.netloc:
        return False
    file = Path(unquote(parts.path)).resolve()
    return file.parent == FONTS and file.suffix == ".ttf"


def print_page(
    html: str, *, title: str, sheets: tuple[str, ...], variant: str
) -> bytes:
    with _one_at_a_time:
        try:
            page = HTML(string=html, url_fetcher=_fetcher)
            document = page.render(
                stylesheets=[_sheet(name) for name in sheets], font_config=_fonts()
            )
            document.metadata.title = title
            document.metadata.lang = "en-GB"
            pdf: bytes = document.write_pdf(pdf_variant=variant)
        except FatalURLFetchingError as refusal:
            raise Refused(str(refusal)) from None
    return pdf


@functools.cache
def _fonts() -> FontConfiguration:
    return FontConfiguration()


@functools.cache
def _sheet(name: str) -> CSS:
    return CSS(
        string=(TEMPLATES / name).read_text(),
        base_url=FONTS.as_uri() + "/",
        url_fetcher=_fetcher,
        font_config=_fonts(),
    )


# Let go before the interpreter takes apart what their destructors need.
atexit.register(_fonts.cache_clear)
atexit.register(_sheet.cache_clear)
