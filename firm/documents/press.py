"""Print HTML as PDF: our own fonts, nothing fetched, read aloud in order."""

from typing import Literal

Variant = Literal["pdf/ua-1", "pdf/a-3b"]

HOUSE_SHEET = "firm/paper/paper.css"


def press_html(
    html: str,
    *,
    title: str,
    stylesheets: tuple[str, ...] = (),
    variant: Variant = "pdf/ua-1",
) -> bytes:
    """Print a page; `stylesheets` are names under templates/, after the firm's own."""
    # A second to load, and needed by the worker alone: the pages do without.
    from firm.documents import printer  # noqa: PLC0415 - see the line above

    sheets = (HOUSE_SHEET, *stylesheets)
    return printer.print_page(html, title=title, sheets=sheets, variant=variant)


def warm() -> None:
    """Load what the first print needs, so that no letter waits for it."""
    press_html("<p>Warm</p>", title="Warm")
