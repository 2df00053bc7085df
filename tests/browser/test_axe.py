"""Every screen against the rules of WCAG 2.0 to 2.2, levels A and AA, light and dark, by axe-core 4.14.1.

The rules live in tests/vendor and run in the page. What only a person can judge (reading order, the sense of
a text alternative) they do not see.
"""

from pathlib import Path

import pytest

pytestmark = pytest.mark.browser

AXE = (Path(__file__).resolve().parents[1] / "vendor" / "axe-core-4.14.1" / "axe.min.js").read_text("utf-8")
LEVELS = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22a", "wcag22aa"]
# Only the colours differ between light and dark.
LIGHT = {"runOnly": {"type": "tag", "values": LEVELS}, "resultTypes": ["violations"]}
DARK = {"runOnly": {"type": "rule", "values": ["color-contrast", "link-in-text-block"]}}
RUN = """async (options) => (await axe.run(document, options)).violations.map(
  (rule) => `${rule.id}: ` + rule.nodes.map((node) => node.target.join(" ")).slice(0, 4).join(" | "))"""


def broken_rules(page) -> list[str]:
    """Return the broken rules of a page with the parts they are broken in, light then dark."""
    page.emulate_media(color_scheme="light")
    page.evaluate(AXE)
    found = [f"light {one}" for one in page.evaluate(RUN, LIGHT)]
    page.emulate_media(color_scheme="dark")
    return found + [f"dark {one}" for one in page.evaluate(RUN, DARK)]


def test_no_screen_breaks_a_rule(demo_house):
    broken, seen = {}, []
    for name, role, path in demo_house.screens:
        page = demo_house.page_of(role)
        answer = page.goto(demo_house.address + path)
        assert answer.status == 200, (name, path)
        seen.append(name)
        if found := broken_rules(page):
            broken[name] = found
    assert broken == {}
    assert len(seen) == len(set(seen)) >= 30


def test_the_rules_find_what_they_are_for(demo_house):
    page = demo_house.page_of("")
    page.goto(demo_house.address + "/sign-in/")
    page.evaluate(
        """() => {
          document.querySelector("main label").remove();
          document.documentElement.removeAttribute("lang");
          document.querySelector("main button").className = "side side-u";
          document.querySelector("main button").setAttribute("aria-nonsense", "1");
        }"""
    )
    found = " ".join(broken_rules(page))
    for rule in ("label:", "html-has-lang:", "aria-valid-attr:"):
        assert rule in found
