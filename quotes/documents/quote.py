from typing import Any

from django.template.loader import render_to_string

from firm.documents.press import press_html

TEMPLATE = "quotes/quote/paper/quote.html"
SHEET = "quotes/quote/paper/quote.css"


def quote_pdf(snapshot: dict[str, Any]) -> bytes:
    """Print a quote exactly as its snapshot reads."""
    title = f"Quote {snapshot['number']}, version {snapshot['version']}"
    context = {"shot": snapshot, "firm": snapshot["firm"], "title": title}
    return press_html(
        render_to_string(TEMPLATE, context), title=title, stylesheets=(SHEET,)
    )
