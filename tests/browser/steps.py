"""What people do on the screens, in their own words: one verb a step."""

import re

from playwright.sync_api import expect

from sessions.demo.factories import PASSPHRASE

# A form that htmx has gone through bears its mark.
LISTENS = "field => 'htmx-internal-data' in (document.querySelector(field)?.form ?? {})"


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

    def look_for(self, field, words):
        """Type into a field whose list follows the words, and wait for the list that answers them."""
        expect(self.page.locator(field)).to_be_visible()
        # Nobody types in the first moment of a page or of a part of it; a machine would, before htmx listens.
        self.page.wait_for_function(LISTENS, arg=field)
        with self.page.expect_response(re.compile(r"[?&]words=[^&]")):
            self.page.locator(field).fill(words)

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
        expect(self.page.locator(".code-once")).to_be_visible()
        self.touch("It is written down")
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
        expect(self.page.get_by_text(re.compile("^Saved\\."))).to_be_visible()

    def adds_room(self, name):
        self._add("/studio/rooms/new/", [("Room", name)])

    def adds_unit(self, name, *, kind, room):
        self._add("/library/apparatus/units/new/", [("Name", name)], [("Kind", kind), ("Room", room)])

    def adds_spring(self, name, *, grade):
        path = "/library/apparatus/springs/new/"
        self._add(path, [("The studio's own name", name)], [("Kind", "Reformer"), ("Grade", grade)])

    def adds_person(self, full, call, sign_in, *, instructor=False, front_desk=False):
        """Add somebody and return the code that is shown once."""
        self.go("/studio/staff/new/")
        self.fill_starting("Full name", full)
        self.fill_starting("What to call them", call)
        self.fill_starting("Sign-in name", sign_in)
        self.page.get_by_label("Instructor" if instructor else "Front desk", exact=True).check()
        self.touch("Save and make a code")
        return self.page.locator(".code-once").inner_text()


class Newcomer(Person):
    def chooses_a_passphrase(self, sign_in, code):
        self.go("/sign-in/")
        self.touch("I have a code")
        self.fill_starting("Sign-in name", sign_in)
        self.fill_starting("Code", code.upper().replace("-", " "))
        self.fill_starting("New passphrase", PASSPHRASE)
        self.touch("Come in")
        self.page.wait_for_url(lambda url: "/code/" not in url)


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
            group.locator(f"label.opt-{'yes' if holds else 'no'}").tap()
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
        self.page.locator("label.phrase", has_text=unit).tap()
        self.touch("Book it")
        expect(self.page.get_by_text("Booked.")).to_be_visible()

    def mark_arrived(self, name):
        self.go("/")
        row = self.page.locator(".dkrow", has_text=name)
        row.get_by_role("button", name="Arrived").first.tap()
        expect(row.get_by_text(re.compile("^arrived"))).to_be_visible()


class Instructor(Person):
    def find_client(self, words, name):
        self.go("/clients/")
        self.page.get_by_role("searchbox").first.fill(words)
        self.page.get_by_role("link", name=name).first.tap()
        self.heading(name)

    def confirm_first_flag(self, client):
        self.go(f"/clients/{client.public_id}/flags/")
        self.touch("Confirm as it is")
        expect(self.page.get_by_role("button", name="Confirm as it is")).to_have_count(0)

    def sees_on_today(self, name, word):
        self.go("/")
        expect(self.page.locator(".appt", has_text=name).get_by_text(word).first).to_be_visible()

    # The plan.

    def start_plan(self, attendance):
        self.go(f"/attendances/{attendance.public_id}/plan/")
        self.touch("Start the plan")
        expect(self.page.locator("#plan-add")).to_be_visible()

    def add_to_plan(self, name):
        expect(self.page.locator("#plan-add")).to_be_visible()
        if not self.page.locator("#plan-words").is_visible():
            self.page.locator("#plan-add").tap()
        self.look_for("#plan-words", name)
        self.page.locator(".pickrow", has_text=name).first.tap()
        expect(self.page.locator(".list .exrow", has_text=name)).to_be_visible()

    def keep_avoid(self, name, reason):
        expect(self.page.locator("#plan-approve")).to_contain_text("then approve")
        self.page.locator(".list .exrow", has_text=name).tap()
        self.page.get_by_text("Keep, with reason").tap()
        self.page.locator("[data-keep-form] textarea, [data-keep-form] input[type=text]").first.fill(reason)
        self.page.locator("#go-keep").tap()
        expect(self.page.get_by_text("kept, with reason")).to_be_visible()

    def approve(self):
        expect(self.page.locator("#plan-approve")).to_have_text("Approve")
        self.page.locator("#plan-approve").tap()
        expect(self.page.get_by_text(re.compile("^Approved by Maris"))).to_be_visible()

    # The session.

    def start_session(self, attendance):
        self.go(f"/attendances/{attendance.public_id}/record/")
        if self.page.locator(".seen label").count():
            self.page.locator(".seen label").tap()
        self.touch("Start")
        expect(self.page.locator("#fl")).to_be_visible()

    def on_the_floor(self, name):
        expect(self.page.locator("#fl h1")).to_have_text(name)
        # A touch in the first moment after a swap is taken for the second half of a double tap.
        self.page.wait_for_timeout(500)

    def as_planned(self, name):
        self.on_the_floor(name)
        self.touch("As planned")

    def skip(self, name):
        self.on_the_floor(name)
        self.touch("Skip")

    def record_sides(self, name, *, left, right, quality_left, quality_right):
        self.on_the_floor(name)
        for side, count, quality in (("left", left, quality_left), ("right", right, quality_right)):
            self.page.locator(f"input[name=reps_{side}]").fill(str(count))
            step = self.page.locator(f"input[name=quality_{side}][value='{quality}']")
            step.locator("xpath=ancestor::label").tap()
        self.page.locator(".save-next").tap()

    def stop_and_go_on(self, name):
        """Touch Stop, say what was seen, stop the exercise only; the session goes on to its close."""
        self.on_the_floor(name)
        self.page.locator(".btn-stop", has_text="Stop").first.tap()
        sheet = self.page.locator("#stop-sheet")
        expect(sheet).to_be_visible()
        # A sign that calls for help offers nothing but the end of the session.
        sheet.locator("label.opt.urgent").first.tap()
        expect(sheet.get_by_role("button", name="Stop this exercise")).to_be_hidden()
        sheet.locator("label.opt", has_text="They ask to stop").tap()
        sheet.get_by_role("button", name="Stop this exercise").tap()

    def close(self, *, next_time, effort):
        self.heading("Close the session")
        self.page.get_by_label("One line for next time").fill(next_time)
        choice = self.page.locator(f"input[name=effort][value='{effort}']")
        choice.locator("xpath=ancestor::label").tap()
        self.page.get_by_role("button", name="Close the session").tap()
        expect(self.page.get_by_text("The session is closed.")).to_be_visible()

    def sees_in_story(self, client, *words):
        self.go(f"/clients/{client.public_id}/timeline/")
        row = self.page.locator("tr", has_text=words[0])
        for word in words[1:]:
            expect(row.get_by_text(word, exact=True).first).to_be_visible()

    # Home practice.

    def put_together(self, client, names):
        self.go(f"/clients/{client.public_id}/home-practice/")
        for name in names:
            expect(self.page.locator("#home-add")).to_be_visible()
            if not self.page.locator("#home-words").is_visible():
                self.page.locator("#home-add").tap()
            self.look_for("#home-words", name)
            self.page.locator(".pickrow", has_text=name).first.tap()
            confirm = self.page.get_by_role("button", name="Put it on the sheet")
            row = self.page.locator(".list .exrow", has_text=name)
            expect(confirm.or_(row).first).to_be_visible()
            if confirm.is_visible():
                taught = self.page.locator("input[name=taught]")
                if taught.count():
                    taught.check()
                confirm.tap()
            expect(row).to_be_visible()

    def issue(self):
        self.page.locator("#home-look").tap()
        self.page.get_by_role("button", name=re.compile("^Issue handout")).tap()
        self.page.wait_for_url(re.compile("/handouts/"))

    def opens_pdf(self, handout):
        answer = self.page.request.get(f"{self.tablet.address}/handouts/{handout.public_id}/pdf/")
        assert answer.status == 200 and answer.body() == bytes(handout.pdf)
