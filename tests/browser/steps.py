"""What people do on the screens, in their own words: one verb a step."""

import re

from playwright.sync_api import expect

from sessions.demo.factories import PASSPHRASE


class Person:
    def __init__(self, tablet):
        self.tablet, self.page = tablet, tablet.page

    def go(self, path):
        self.tablet.go(path)

    def fill(self, label, value):
        self.page.get_by_label(label, exact=True).fill(value)

    def fill_starting(self, label, value):
        """Fill a field whose label also carries the mark of a required field."""
        self.page.get_by_label(re.compile("^" + re.escape(label))).first.fill(value)

    def choose(self, label, words):
        field = self.page.get_by_label(re.compile("^" + re.escape(label))).first
        option = field.locator("option", has_text=words).first.get_attribute("value")
        field.select_option(option)

    def touch(self, name, *, exact=True):
        """Touch a button or a link by its words."""
        button = self.page.get_by_role("button", name=name, exact=exact)
        (button if button.count() else self.page.get_by_role("link", name=name, exact=exact)).first.tap()

    def heading(self, words):
        expect(self.page.get_by_role("heading", level=1, name=words)).to_be_visible()


class Owner(Person):
    def sets_the_studio_up(self):
        self.go("/")
        self.fill_starting("Your full name", "Linnet Ashgrove")
        self.fill_starting("What to call you", "Linnet")
        self.fill_starting("Sign-in name", "linnet")
        self.fill_starting("Passphrase", PASSPHRASE)
        self.fill_starting("Studio name", "Wyndlefold Studio")
        self.fill_starting("Studio telephone", "01632 960118")
        self.fill_starting("Emergency number", "999")
        self.page.locator("main form").get_by_role("button").last.tap()
        self.page.wait_for_url(lambda url: "/start/" not in url)

    def _add(self, path, fields, choices=(), ticks=()):
        self.go(path)
        for label, value in fields:
            self.fill_starting(label, value)
        for label, words in choices:
            self.choose(label, words)
        for label in ticks:
            self.page.get_by_label(label, exact=True).check()
        self.touch("Save")
        expect(self.page.get_by_text("Saved.")).to_be_visible()

    def adds_room(self, name):
        self._add("/studio/rooms/new/", [("Room", name)])

    def adds_unit(self, name, *, kind, room):
        self._add("/library/apparatus/units/new/", [("Name", name)], [("Kind", kind), ("Room", room)])

    def adds_spring(self, name, *, grade):
        path = "/library/apparatus/springs/new/"
        self._add(path, [("The studio's own name", name)], [("Kind", "Reformer"), ("Grade", grade)])

    def adds_person(self, full, call, sign_in, *, instructor=False, front_desk=False):
        ticks = ["Instructor"] if instructor else ["Front desk"] if front_desk else []
        fields = [("Full name", full), ("What to call you", call), ("Sign-in name", sign_in)]
        self._add("/studio/staff/new/", [*fields, ("Passphrase", PASSPHRASE)], ticks=ticks)


class Desk(Person):
    def add_client(self, name, *, call, born, telephone):
        self.go("/")
        self.touch("New client")
        self.fill_starting("Full name", name)
        self.fill_starting("What to call them", call)
        self.fill_starting("Date of birth", born)
        self.fill_starting("Telephone", telephone)
        self.fill_starting("Whom to ring in an emergency", "Rowan Oakapple")
        self.fill_starting("Their telephone", "01632 960201")
        self.touch("Save")
        self.heading(name)

    def type_paper_form(self, *, condition, wish):
        self.touch("Type the paper form")
        self.page.get_by_label(re.compile("^Name, birth date")).check()
        self.fill_starting("Date on the form", "2026-11-24")
        for group in self.page.locator("fieldset.q").all():
            holds = group.get_by_label(condition).count()
            group.locator(f'label.opt-{"yes" if holds else "no"}').tap()
        self.page.get_by_label(condition).check()
        self.fill_starting("What would they like to be able to do?", wish)
        self.touch("Save the form")
        expect(self.page.get_by_text("Saved. An instructor reads it next.")).to_be_visible()

    def cannot_read_the_form_back(self, client):
        self.go(f"/clients/{client.public_id}/intake/")
        assert "steoporosis" not in self.page.content()
        answer = self.page.request.get(f"{self.tablet.address}/clients/{client.public_id}/answers/")
        assert answer.status == 403

    def book(self, name, *, day, time, room, unit):
        self.go("/bookings/new/")
        self.choose("Client", name)
        expect(self.page.get_by_text("Ask an instructor before booking")).to_be_visible()
        self.fill_starting("Day", day)
        self.fill_starting("Time", time)
        self.choose("Instructor", "Maris")
        self.choose("Room", room)
        self.page.get_by_label(re.compile(f"^{unit}")).check()
        self.touch("Book it")
        expect(self.page.get_by_text("Booked.")).to_be_visible()

    def mark_arrived(self, name):
        self.go("/")
        row = self.page.locator(".dkrow", has_text=name)
        row.get_by_role("button", name="Arrived").first.tap()
        expect(row.get_by_text(re.compile("arrived"))).to_be_visible()


class Instructor(Person):
    def find_client(self, words, name):
        self.go("/clients/")
        self.page.get_by_role("searchbox").first.fill(words)
        self.page.get_by_role("link", name=name).first.tap()
        self.heading(name)

    def confirm_first_flag(self, client):
        self.go(f"/clients/{client.public_id}/flags/")
        self.touch("Confirm as it is")
        expect(self.page.get_by_role("heading", name="Active")).to_be_visible()

    def sees_on_today(self, name, word):
        self.go("/")
        expect(self.page.locator(".appt", has_text=name).get_by_text(word).first).to_be_visible()
