"""Enrolled devices and who is signed in."""

import hashlib

import factory
from factory.django import DjangoModelFactory

from sessions.demo.factories.house import StaffFactory
from sessions.demo.factories.times import now
from studio.models import Device, StaffSession


class DeviceFactory(DjangoModelFactory):
    """A tablet; the token in its browser's cookie is `token`."""

    class Meta:
        model = Device

    class Params:
        token = factory.Sequence(lambda n: f"token-of-device-{n}")

    name = factory.Sequence(lambda n: f"Tablet {n + 1}")
    kind = Device.Kind.TABLET
    token_hash = factory.LazyAttribute(lambda row: hashlib.sha256(row.token.encode()).hexdigest())
    enrolled_at = factory.LazyAttribute(now)
    enrolled_by = factory.SubFactory(StaffFactory, owner=True)


class StaffSessionFactory(DjangoModelFactory):
    """Somebody signed in, in a browser of which nothing else is known."""

    class Meta:
        model = StaffSession

    person = factory.SubFactory(StaffFactory)
    session_key = factory.Sequence(lambda n: f"session{n:025d}")
    since = factory.LazyAttribute(now)
    full_at = factory.SelfAttribute("since")
    seen_at = factory.SelfAttribute("since")
