"""Passes with the first line of their ledger."""

import datetime as dt

import factory
from factory.django import DjangoModelFactory

from sessions.demo.factories.house import StaffFactory
from sessions.demo.factories.people import ClientFactory
from sessions.demo.factories.times import now, today
from sessions.models import Pass, PassEntry


class PassFactory(DjangoModelFactory):
    """`PassFactory(client=…, sessions=10, bought_on=day, last_day=day)`: a pass as it was sold, nothing used."""

    class Meta:
        model = Pass

    client = factory.SubFactory(ClientFactory)
    sessions = 10
    bought_on = factory.LazyAttribute(lambda row: today(row) - dt.timedelta(days=30))
    token = factory.Sequence(lambda n: f"token {n}")
    sold_by = factory.SubFactory(StaffFactory, front_desk=True)
    sold_at = factory.LazyAttribute(now)

    @classmethod
    def _create(cls, model_class, *args, **kwargs):
        sold = super()._create(model_class, *args, **kwargs)
        PassEntryFactory(of=sold)
        return sold


class PassEntryFactory(DjangoModelFactory):
    """The first line of a ledger; further ones are for sessions.actions.passes."""

    class Meta:
        model = PassEntry

    of = factory.LazyFunction(lambda: _bare())
    number = 1
    kind = PassEntry.Kind.BOUGHT
    delta = factory.SelfAttribute("of.sessions")
    left = factory.SelfAttribute("of.sessions")
    author = factory.SelfAttribute("of.sold_by")
    at = factory.SelfAttribute("of.sold_at")


def _bare() -> Pass:
    """Return a pass without any line yet."""
    made = PassFactory.build(client=ClientFactory(), sold_by=StaffFactory(front_desk=True))
    made.save()
    return made
