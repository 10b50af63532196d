"""Choices in the order of their weight, the lightest first."""

from __future__ import annotations

import heapq
from collections.abc import Iterator, Sequence

from solver.sizing.choice import Choice, Sizes

Orders = Sequence[tuple[int, ...]]
"""Of each group what it may be made of, the lightest first."""


def by_weight(sizes: Sizes, orders: Orders) -> Iterator[Choice]:
    """Yield every choice among some options, the lightest first; of equal weights in the order given."""
    start = (0,) * len(orders)
    heap, seen = [(_weight(sizes, orders, start), start)], {start}
    while heap:
        _, ranks = heapq.heappop(heap)
        yield _choice(orders, ranks)
        for place, rank in enumerate(ranks):
            if rank + 1 < len(orders[place]):
                following = (*ranks[:place], rank + 1, *ranks[place + 1 :])
                if following not in seen:
                    seen.add(following)
                    heapq.heappush(heap, (_weight(sizes, orders, following), following))


def _choice(orders: Orders, ranks: Choice) -> Choice:
    return tuple(order[rank] for order, rank in zip(orders, ranks, strict=True))


def _weight(sizes: Sizes, orders: Orders, ranks: Choice) -> float:
    return sizes.weight(_choice(orders, ranks))
