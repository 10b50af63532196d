"""The explorer: an app a page, on one server, and the shell around them."""

from __future__ import annotations

from typing import Any

from dash import Dash

from explorer.pages.explore import callbacks as explore_callbacks
from explorer.pages.explore.layout import lay_out as lay_out_explore
from explorer.pages.learn import callbacks as learn_callbacks
from explorer.pages.learn.layout import lay_out as lay_out_learn
from explorer.pages.lighter import callbacks as lighter_callbacks
from explorer.pages.lighter.layout import lay_out as lay_out_lighter
from explorer.pages.sheet.serving import serve_sheets
from explorer.pages.whole import callbacks as whole_callbacks
from explorer.pages.whole.layout import lay_out as lay_out_whole
from explorer.store import Jobs, Results, Start

SHELL = """<!DOCTYPE html>
<html lang="en">
<head>{%metas%}<title>{%title%}</title>
<link rel="icon" href="/assets/mark.svg">{%css%}</head>
<body>{%app_entry%}<footer>{%config%}{%scripts%}{%renderer%}</footer></body>
</html>"""


def make_app(results: Results, jobs: Jobs, start: Start) -> Dash:
    """Make the pages; everything they answer comes from `results`, and long work runs in `jobs`.

    Returns the first page, on whose server the others live as well.
    """
    explore = _make_page("/", others=("learn", "whole", "lighter"))
    explore.layout = lay_out_explore(start)
    explore_callbacks.register(explore, results, jobs, start)
    learn = _make_page("/learn/", others=("explore", "whole", "lighter"), server=explore.server)
    learn.layout = lay_out_learn(start)
    learn_callbacks.register(learn, results, jobs, start)
    whole = _make_page("/whole/", others=("explore", "learn", "lighter"), server=explore.server)
    whole.layout = lay_out_whole(start)
    whole_callbacks.register(whole, results, jobs, start)
    serve_sheets(explore, results)
    lighter = _make_page("/lighter/", others=("explore", "learn", "whole"), server=explore.server)
    lighter.layout = lay_out_lighter(start)
    lighter_callbacks.register(lighter, results, jobs, start)
    return explore


def _make_page(path: str, others: tuple[str, ...], server: Any = True) -> Dash:
    """Make an app at a path; the folders of assets that belong to `others` are not its own."""
    return Dash(
        "explorer",
        server=server,
        url_base_pathname=path,
        title="Stillbar",
        update_title="",
        assets_folder="assets",
        assets_path_ignore=[f"^{other}$" for other in others],
        index_string=SHELL,
        serve_locally=True,
        enable_mcp=False,
        meta_tags=[{"name": "viewport", "content": "width=device-width, initial-scale=1"}],
    )
