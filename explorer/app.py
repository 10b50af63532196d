"""The explorer as an app: pages, their callbacks and the shell around them."""

from __future__ import annotations

from dash import Dash, dcc

from explorer.pages.explore.callbacks import register
from explorer.pages.explore.layout import lay_out
from explorer.store import Jobs, Results, Start

SHELL = """<!DOCTYPE html>
<html lang="en">
<head>{%metas%}<title>{%title%}</title>
<link rel="icon" href="/assets/mark.svg">{%css%}</head>
<body>{%app_entry%}<footer>{%config%}{%scripts%}{%renderer%}</footer></body>
</html>"""


def make_app(results: Results, jobs: Jobs, start: Start) -> Dash:
    """Make the app; everything it answers comes from `results`, and long work runs in `jobs`."""
    app = Dash(
        "explorer",
        title="Stillbar",
        update_title="",
        assets_folder="assets",
        index_string=SHELL,
        serve_locally=True,
        enable_mcp=False,
        meta_tags=[{"name": "viewport", "content": "width=device-width, initial-scale=1"}],
    )
    app.layout = lay_out(start)
    app.layout.children.append(dcc.Store(id="cancel-data"))
    register(app, results, jobs, start)
    return app
