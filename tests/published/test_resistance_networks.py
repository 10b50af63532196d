"""Bars on one line are an electrical network: share of a bar = 1 - effective resistance x conductance.

Held against networkx, resistance_distance, a general library for graphs, and against R. M. Foster's
theorem of 1949: effective resistances x conductances sum to nodes - 1.
"""

from __future__ import annotations

from collections.abc import Sequence
from functools import cache

import networkx as nx  # type: ignore[import-untyped]
import numpy as np
import pytest

from solver.answers import Answers, answer
from tests.building import build_study, build_truss, load_case
from tests.published.record import agree_relatively, agree_within, published

EDGES = [(1, 2), (1, 3), (1, 4), (3, 4), (3, 5), (4, 5)]
"""The network of the library's own example, unit resistances."""


def bars_on_a_line(edges: Sequence[tuple[int, int]], conductances: Sequence[float]) -> Answers:
    """A bar an edge, of stiffness EA/L = its conductance; every joint held across the line, one along it."""
    nodes = sorted({node for edge in edges for node in edge})
    joints = {str(node): (3 * place + place**2, 0) for place, node in enumerate(nodes)}
    lengths = np.array([abs(joints[str(a)][0] - joints[str(b)][0]) for a, b in edges])
    supports = {name: "xy" if name == str(nodes[0]) else "y" for name in joints}
    areas = (lengths * conductances).tolist()
    truss = build_truss(joints, [f"{a}-{b}" for a, b in edges], supports, areas=areas)
    return answer(build_study(truss, [load_case(truss, **{str(nodes[-1]): (1, 0)})]))


@cache
def random_network(seed: int) -> tuple[nx.Graph, list[float]]:
    """A connected network of 12 nodes and 20 edges, conductances from 0.1 to 10."""
    random = np.random.default_rng(seed)
    graph = nx.gnm_random_graph(12, 20, seed=seed)
    nx.add_path(graph, range(12))
    conductances = (10.0 ** random.uniform(-1, 1, graph.number_of_edges())).tolist()
    for edge, conductance in zip(graph.edges, conductances, strict=True):
        graph.edges[edge]["resistance"] = 1 / conductance
    return graph, conductances


@published("networkx_resistance", "the example of the documentation: 0.625 between nodes 1 and 3")
def test_the_share_of_a_bar_on_a_line_follows_from_the_documented_resistance() -> None:
    shares = bars_on_a_line(EDGES, [1.0] * 6).redundancy.shares
    agree_relatively(1 - shares[EDGES.index((1, 3))], 0.625, 1e-12)


@published("networkx_computed", "the example of the documentation, all six edges, one of them a bridge")
def test_all_shares_on_a_line_are_one_minus_resistance() -> None:
    graph = nx.Graph(EDGES)
    shares = bars_on_a_line(EDGES, [1.0] * 6).redundancy.shares
    agree_within(shares, [1 - nx.resistance_distance(graph, *edge) for edge in EDGES], 1e-12)
    agree_within(shares, [0, 0.375, 0.375, 0.5, 0.375, 0.375], 1e-12)


@published("networkx_computed", "random networks of 12 nodes, conductances from 0.1 to 10")
@pytest.mark.parametrize("seed", range(5))
def test_shares_of_random_bars_on_a_line_are_one_minus_resistance_times_conductance(seed: int) -> None:
    graph, conductances = random_network(seed)
    shares = bars_on_a_line(list(graph.edges), conductances).redundancy.shares
    resistances = [nx.resistance_distance(graph, a, b, weight="resistance") for a, b in graph.edges]
    agree_within(shares, 1 - np.array(resistances) * conductances, 1e-12)


@published("networkx_computed", "movement between two nodes under equal and opposite unit loads")
@pytest.mark.parametrize("seed", range(5))
def test_the_movement_of_a_loaded_joint_is_the_resistance_to_the_held_one(seed: int) -> None:
    graph, conductances = random_network(seed)
    answers = bars_on_a_line(list(graph.edges), conductances)
    moved = answers.responses.deflections.cases[2 * 11, 0]
    agree_relatively(moved, nx.resistance_distance(graph, 0, 11, weight="resistance"), 1e-12)


@published("foster_theorem", "sum over the edges of five random networks")
@pytest.mark.parametrize("seed", range(5))
def test_shares_on_a_line_sum_to_edges_less_nodes_plus_one(seed: int) -> None:
    graph, conductances = random_network(seed)
    shares = bars_on_a_line(list(graph.edges), conductances).redundancy.shares
    agree_within((1 - shares).sum(), graph.number_of_nodes() - 1, 1e-12 * len(conductances))
