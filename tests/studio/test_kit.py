"""The page of components: it shows every tag and every include there is, twice, to the owner."""

import re
from pathlib import Path

import pytest
from django.urls import reverse

from studio.templatetags import evenside

TEMPLATES = Path(__file__).resolve().parents[2] / "templates"
# Shown by every page around its own part, or only inside another component.
ELSEWHERE = {"rail", "messages", "scheme_menu", "error_page", "attrs", "one", "pair", "lock_watch"}


def sources() -> str:
    files = sorted((TEMPLATES / "studio").glob("*kit*.html"))
    return "".join(path.read_text("utf-8") for path in files)


def test_every_tag_is_shown():
    shown = set(re.findall(r"\{% (\w+)", sources()))
    assert set(evenside.register.tags) - shown == set()


def test_every_component_is_shown_by_its_tag_or_by_name():
    text = sources()
    files = {path.stem for path in (TEMPLATES / "components").glob("*.html")} - ELSEWHERE
    missing = {one for one in files if f"components/{one}.html" not in text and f"{{% {one} " not in text}
    assert missing - {"required_note", "ask_first"} == set()
    assert "{% required_note %}" in text and "{% ask_first %}" in text


@pytest.mark.django_db
def test_the_page_shows_both_schemes_and_names_no_control_twice(as_owner):
    html = as_owner.get(reverse("studio:kit")).content.decode()
    assert html.count('class="kit-scheme" data-bs-theme=') == 2
    ids = re.findall(r'\sid="([^"]+)"', html)
    assert sorted(one for one in set(ids) if ids.count(one) > 1) == []


@pytest.mark.django_db
def test_only_the_owner_opens_it(as_instructor, as_desk):
    for browser in (as_instructor, as_desk):
        assert browser.get(reverse("studio:kit")).status_code == 403
