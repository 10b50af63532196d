"""The board of the page to learn on, as a reader sees and handles it."""

from __future__ import annotations

from tests.journeys.screen import Screen


def steps(screen: Screen) -> list[str]:
    return screen.find("#walk-steps button").all_inner_texts()


def looks(screen: Screen) -> dict[str, str]:
    """How each member is drawn, by name."""
    found: list[tuple[str, str]] = screen.page.evaluate(
        "() => [...document.querySelectorAll('#plate .bars > .bar')]"
        ".map(b => [b.dataset.member, b.getAttribute('class').split(' ')[1]])"
    )
    return dict(found)


def zeros(screen: Screen) -> set[str]:
    return {name for name, look in looks(screen).items() if look == "z"}


def classes(screen: Screen, member: str) -> list[str]:
    return (screen.find(f"#plate .bar[data-member='{member}']").get_attribute("class") or "").split()


def value_boxes(screen: Screen) -> list[tuple[float, float, float, float]]:
    """Left, top, right and bottom of what is written at members and seen."""
    found: list[tuple[float, float, float, float]] = screen.page.evaluate(
        "() => [...document.querySelectorAll('#plate .letters .value:not(.off) text')]"
        ".filter(text => text.textContent).map(text => text.getBoundingClientRect())"
        ".map(box => [box.left, box.top, box.right, box.bottom])"
    )
    return found


def arrow_ends(screen: Screen, joint: int) -> tuple[list[float], list[float]]:
    """Free end and inner end of the arrow of a load that pushes down on a joint, on the screen."""
    box = screen.find(f"#plate .load[data-j='{joint}'] .arrow").bounding_box()
    ring = screen.find(f"#plate .joint[data-j='{joint}'] circle").bounding_box()
    assert box and ring
    middle, ends = ring["y"] + ring["height"] / 2, [box["y"], box["y"] + box["height"]]
    inner, outer = sorted(ends, key=lambda y: abs(y - middle))
    across = box["x"] + box["width"] / 2
    return [across, outer], [across, inner]


def drag(screen: Screen, start: list[float], end: list[float]) -> None:
    screen.page.mouse.move(*start)
    screen.page.mouse.down()
    screen.page.mouse.move(*end, steps=4)
    screen.page.mouse.up()


def mark(screen: Screen, *names: str) -> None:
    for name in names:
        screen.page.get_by_role("checkbox", name=name, exact=True).check()
