"""Searching as the screens do it: the form of the address, the whole shelf, and what to let go when nothing fits."""

from collections.abc import Callable
from dataclasses import dataclass

from django.utils.functional import cached_property

from library import finding
from library.finding import Found
from library.forms.search import FindForm
from library.models import Exercise
from library.models.shelf import entry_of, shelf_of

# So many results come at once; the next when the list is scrolled to them.
AT_ONCE = 24
MOST_WAYS = 6


@dataclass(frozen=True)
class Hit:
    """An exercise found, and where."""

    exercise: Exercise
    found: Found

    @property
    def facts(self) -> dict:
        return self.exercise.current.facts

    @property
    def why(self) -> str:
        """Return what is written where it was found, unless that is the name itself."""
        return "" if self.found.where in ("", "name") else self.found.text


class Finder:
    """One search over the whole shelf.

    also: a further test of an exercise for a given form, such as a client's verdicts; it may be asked again for
    wider searches, so it should remember its answers.
    """

    def __init__(self, person, form: FindForm, also: Callable[[FindForm, Exercise], bool] | None = None):
        self.form, self.also = form, also
        self.shelf = shelf_of(person)

    @cached_property
    def hits(self) -> list[Hit]:
        return self.search(self.form)

    def search(self, form: FindForm) -> list[Hit]:
        """Return what is found, best first; nothing for a form that makes no sense."""
        if not form.is_valid():
            return []
        there = {one.current.facts["id"]: one for one in self.shelf}
        entries = [entry_of(one) for one in self.shelf]
        found = finding.search(form.words_typed, filters=form.filters(), exercises=entries)
        hits = [Hit(there[one.id], one) for one in found]
        if self.also:
            hits = [hit for hit in hits if self.also(form, hit.exercise)]
        return hits

    def ways_on(self) -> list[dict]:
        """Return what could be let go so that something is found: text, query and how many it would be."""
        ways = []
        for text, query, words, without in self.form.wider():
            count = len(self.search(self.form.narrowed(words, without)))
            if count:
                ways.append({"text": text, "query": query, "count": count})
        return sorted(ways, key=lambda way: way["count"])[:MOST_WAYS]

    def page(self, start: int = 0) -> dict:
        """Return one stretch of the results from a place on, and where the next begins (None at the end)."""
        end = start + AT_ONCE
        return {"hits": self.hits[start:end], "next": end if end < len(self.hits) else None}

    def context(self) -> dict:
        """Return what library/_found_head.html needs besides the address."""
        form = self.form
        chips = [
            {"text": words, "query": form.query(without=(name, value))}
            for name, value, words in form.set_filters()
        ]
        return {
            "find": form,
            "count": len(self.hits),
            "chips": chips,
            "ways": [] if self.hits else self.ways_on(),
            "query": form.query(),
            "bare": FindForm({}, carried=form.carried).query(),
        }


def start_of(request) -> int:
    """Return the place from which results are asked for; 0 for anything that is no place."""
    typed = request.GET.get("from", "")
    return int(typed) if typed.isascii() and typed.isdigit() and len(typed) < 5 else 0
