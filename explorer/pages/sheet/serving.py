"""Serving calculation sheets: an address asks, a page or a reason answers."""

from __future__ import annotations

from pathlib import Path

from dash import Dash
from flask import Response, request

from explorer.pages.sheet.page import draw_page
from explorer.pages.sheet.request import ADDRESS, NoSheetError, read_address
from explorer.store import Results

ASSETS = Path(__file__).resolve().parents[2] / "assets"
STYLES = (
    "10-tokens.css",
    "20-drawing.css",
    "25-figures.css",
    "30-page.css",
    "explore/39-limits.css",
    "explore/48-member-sheet.css",
)


def serve_sheets(app: Dash, results: Results) -> None:
    """Serve the sheet that an address asks for, on the app's server."""

    def sheet() -> Response:
        try:
            worked, asked = read_address(request.args, results)
        except NoSheetError as error:
            return Response(f"No sheet: {error}.", status=400, mimetype="text/plain")
        style = "".join((ASSETS / name).read_text(encoding="utf-8") for name in STYLES)
        return Response(draw_page(worked, asked, style), mimetype="text/html")

    app.server.add_url_rule(ADDRESS, "member_sheet", sheet)
