from typing import Any

from django.template.loader import render_to_string

from firm.documents.press import press_html

TEMPLATE = "invoices/bill/paper/bill.html"
SHEET = "invoices/bill/paper/bill.css"


def bill_pdf(snapshot: dict[str, Any]) -> bytes:
    """Print a bill exactly as its snapshot reads."""
    title = f"Bill {snapshot['number']}"
    context = {"shot": snapshot, "firm": snapshot["firm"], "title": title}
    html = render_to_string(TEMPLATE, context)
    return press_html(html, title=title, stylesheets=(SHEET,))
