"""An owner alone, from the empty studio to the first printed page, led by the card on today's page.

The browser is the tablet held the wide way; the clock stands at Wednesday 25 November 2026, 10:15.
"""

import re

import pytest
from playwright.sync_api import expect

from clients.models import Client
from library.actions.loading import load_library
from sessions.models import Attendance, Handout
from tests.browser.steps import Desk, Instructor, Owner

pytestmark = pytest.mark.browser

NAME = "Teodor Quillfeather"


class Newcomer(Owner, Desk, Instructor):
    """One person with every job."""

    def follow(self, words):
        """Go to today's page and take the step the card marks as next."""
        self.go("/")
        step = self.page.locator(".steps-to-do .next a")
        expect(step).to_have_text(words)
        step.tap()
        expect(self.page.locator(".steps-to-do")).to_have_count(0)

    def ticked(self) -> list[str]:
        self.go("/")
        return self.page.locator(".steps-to-do .done > span:not(.tickbox)").all_inner_texts()

    def book_self(self, name):
        self.go("/")
        self.touch("Book them")
        self.choose("Client", name)
        self.fill_starting("Day", "2026-11-25")
        self.fill_starting("Time", "11:00")
        self.choose("Instructor", "Linnet")
        self.choose("Room", "Long")
        self.touch("Book it")
        expect(self.page.get_by_text("Booked.")).to_be_visible()

    def save(self):
        self.touch("Save")
        expect(self.page.get_by_text(re.compile(r"^Saved\."))).to_be_visible()


def test_the_card_leads_to_the_first_printed_page(open_tablet, now, transactional_db):
    load_library()
    tablet = open_tablet()
    owner = Newcomer(tablet)
    owner.sets_the_studio_up()

    owner.follow("Add the room you teach in")
    owner.fill_starting("Room", "Long")
    owner.save()
    owner.follow("Add each piece of apparatus")
    owner.fill_starting("Name", "Reformer 1")
    owner.choose("Kind", "Reformer")
    owner.choose("Room", "Long")
    owner.save()
    tablet.page.locator("label.phrase", has_text="foot bar").tap()
    owner.save()
    owner.follow("Name your springs")
    owner.fill_starting("The studio's own name", "Blanket")
    owner.choose("Kind", "Reformer")
    owner.choose("Grade", "heavy")
    owner.save()
    # Alone: nobody to let in. The step stays open and the path goes on by its links.
    expect(tablet.page.get_by_text("Blanket")).to_be_visible()
    owner.go("/")
    owner.touch("Write down a first client")
    owner.fill_starting("Full name", NAME)
    owner.fill_starting("What to call them", "Teo")
    owner.fill_starting("Date of birth", "1971-06-01")
    owner.fill_starting("Telephone", "07700 900141")
    owner.fill_starting("Whom to ring in an emergency", "Rowan Oakapple")
    owner.fill_starting("Their telephone", "01632 960201")
    owner.touch("Save")
    owner.heading(NAME)
    client = Client.objects.get()

    owner.go("/")
    owner.touch("Write down their answers")
    tablet.page.wait_for_url(re.compile("/intake/$"))
    tablet.page.get_by_label(re.compile("^Name, birth date")).check()
    owner.fill_starting("Date on the form", "2026-11-24")
    for group in tablet.page.locator("fieldset.q").all():
        group.locator("label.opt-no").tap()
    owner.touch("Save the form")
    tablet.page.wait_for_url(lambda url: "/intake/" not in url)
    owner.book_self(NAME)
    attendance = Attendance.objects.get()

    owner.go("/")
    owner.touch("Plan the session")
    tablet.page.wait_for_url(re.compile("/plan/$"))
    owner.touch("Start the plan")
    owner.add_to_plan("Pelvic curl")
    owner.add_to_plan("Clam, side-lying")
    tablet.page.locator("#plan-approve").tap()
    expect(tablet.page.get_by_text(re.compile("^Approved by Linnet"))).to_be_visible()
    owner.go("/")
    owner.touch("Record it")
    tablet.page.wait_for_url(re.compile("/record/$"))
    owner.start_session(attendance)
    owner.as_planned("Pelvic curl")
    owner.as_planned("Clam, side-lying")
    owner.close(next_time="Same again.", effort=4)

    done = owner.ticked()
    assert len(done) == 8 and "Let in who works here" not in " ".join(done)
    owner.touch("Print their home practice")
    tablet.page.wait_for_url(re.compile("/home-practice/$"))
    owner.put_together(client, ["Pelvic curl", "Clam, side-lying"])
    owner.issue()
    owner.opens_pdf(Handout.objects.get())
    owner.go("/")
    expect(tablet.page.locator(".first-hour")).to_have_count(0)
