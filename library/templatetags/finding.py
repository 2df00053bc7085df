"""What was found, with the words that matched marked: `{% load finding %}`."""

from django import template
from django.utils.html import format_html, format_html_join

from library import finding

register = template.Library()


@register.simple_tag
def marked(text, found):
    """Write a text with the words marked that a search (`library.finding.Found`) found in it."""
    if not found or not found.words:
        return text
    pieces = finding.marked(text, found.words)
    return format_html_join("", "{}", ((_piece(*piece),) for piece in pieces))


def _piece(text: str, hit: bool):
    return format_html("<mark>{}</mark>", text) if hit else text


@register.simple_tag
def with_query(address, query):
    """Write an address with what is asked behind it, if anything is."""
    return f"{address}?{query}" if query else address
