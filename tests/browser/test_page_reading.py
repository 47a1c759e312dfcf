"""The page can be read and used: on a telephone, in the dark, with the keyboard alone."""

import re

import pytest

from hangpost.generators.pack import Pack

from .opened import Open

SMALL_TEXT = """([least, leastDrawn]) => {
    const walker = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT), small = [];
    while (walker.nextNode()) {
        const node = walker.currentNode, element = node.parentElement;
        if (!node.textContent.trim() || !element.checkVisibility()) continue;
        if (["SCRIPT", "STYLE", "TITLE"].includes(element.tagName)) continue;
        if (element.closest("title")) continue;
        let size = parseFloat(getComputedStyle(element).fontSize);
        const drawing = element.closest("svg");
        if (drawing) size *= drawing.getBoundingClientRect().width / drawing.viewBox.baseVal.width;
        if (size < (drawing ? leastDrawn : least)) small.push([size, node.textContent.trim().slice(0, 40)]);
    }
    return small;
}"""


@pytest.mark.parametrize("width", [320, 360, 412])
def test_text_is_readable_on_a_telephone_without_scrolling_sideways(
    visit: Open, width: int
) -> None:
    page = visit(width=width, height=740, solid=False).page
    wide = page.evaluate(
        """() => [...document.querySelectorAll("body *")]
            .filter(e => e.checkVisibility() && !e.closest("svg, .map figure, .skip, thead, .controls label span"))
            .filter(e => e.getBoundingClientRect().right > innerWidth + 1)
            .map(e => e.tagName + "." + e.className)"""
    )

    assert page.evaluate("document.documentElement.scrollWidth") <= width
    assert not wide
    # Common practice, no source: 12 px for small print, a drawing gets by with less.
    assert not page.evaluate(SMALL_TEXT, [12.0, 8.5])
    for button in page.locator("button:visible").all():
        box = button.bounding_box()
        assert box and box["height"] >= 44 and box["width"] >= 44


CONTRAST = """() => {
    const parse = (text) => text.match(/[\\d.]+/g).map(Number);
    const light = ([r, g, b]) => [r, g, b].map(c => c / 255)
        .map(c => c <= 0.04045 ? c / 12.92 : ((c + 0.055) / 1.055) ** 2.4)
        .reduce((sum, c, k) => sum + c * [0.2126, 0.7152, 0.0722][k], 0);
    const behind = (element) => {
        for (let e = element; e; e = e.parentElement) {
            const colour = parse(getComputedStyle(e).backgroundColor);
            if (colour.length < 4 || colour[3] > 0) return colour;
        }
        return [255, 255, 255];
    };
    const poor = [];
    for (const element of document.querySelectorAll("body *")) {
        const own = [...element.childNodes].some(n => n.nodeType === 3 && n.textContent.trim());
        if (!own || !element.checkVisibility() || ["SCRIPT", "STYLE", "TITLE"].includes(element.tagName)) continue;
        if (element.closest("title")) continue;
        const style = getComputedStyle(element);
        const [a, b] = [parse(element.closest("svg") ? style.fill : style.color), behind(element)].map(light);
        const ratio = (Math.max(a, b) + 0.05) / (Math.min(a, b) + 0.05);
        if (ratio < 4.5) poor.push([ratio, element.tagName, element.className, element.textContent.slice(0, 30)]);
    }
    return poor;
}"""


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_text_stands_out_from_what_is_behind_it(visit: Open, scheme: str) -> None:
    # WCAG 2.1, success criterion 1.4.3: at least 4.5 to 1.
    page = visit(scheme=scheme, solid=False).page
    paper = page.evaluate("getComputedStyle(document.body).backgroundColor")
    brightness = sum(map(int, re.findall(r"\d+", paper)[:3])) / 3

    assert (brightness < 60) == (scheme == "dark")
    assert not page.evaluate(CONTRAST)


def test_checks_sort_by_any_column_and_open_up(visit: Open, pack: Pack) -> None:
    page = visit(solid=False).page
    rows = page.locator("#check-table tbody tr")
    shown = [row for row in rows.all() if row.is_visible()]
    page.click("button.more[aria-controls=check-table]")
    page.click("#check-table th:nth-child(5) button")
    used = page.eval_on_selector_all(
        "#check-table tbody td:nth-child(5)", "cells => cells.map(c => Number(c.dataset.sort))"
    )
    first = page.get_attribute("#check-table th:nth-child(5)", "aria-sort")
    page.click("#check-table th:nth-child(5) button")
    back = page.eval_on_selector_all(
        "#check-table tbody td:nth-child(5)", "cells => cells.map(c => Number(c.dataset.sort))"
    )

    assert len(shown) == 12
    assert len(used) == len(pack.checks)
    assert all(row.is_visible() for row in rows.all())
    assert used == sorted(used) and back == sorted(used, reverse=True)
    assert first == "ascending"
    assert page.locator("#check-table th[aria-sort]").count() == 1


def test_every_control_is_reached_by_tab_and_has_a_name(visit: Open) -> None:
    page = visit().page
    names = page.eval_on_selector_all(
        "a[href], button, input, canvas, [tabindex='0']",
        """all => all.filter(e => e.checkVisibility()).map(e =>
            [e.tagName, e.tabIndex, e.getAttribute("aria-label") || e.textContent.trim()
                || (e.labels && e.labels[0] && e.labels[0].textContent.trim()) || ""])""",
    )

    assert len(names) > 30
    assert not [row for row in names if row[1] < 0 or not row[2]]
