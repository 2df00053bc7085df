"""What would lift an 'avoid' in a plan, in one touch beside the row's form."""

import datetime as dt

import pytest
from playwright.sync_api import expect

from clients.models import Client
from sessions.demo import factories as f
from sessions.models import PlanItem
from studio.models import Staff
from tests.browser.conftest import PORTRAIT

pytestmark = pytest.mark.browser


def test_one_touch_writes_it_in_and_one_takes_it_out(demo_house):
    role = next(role for name, role, _path in demo_house.screens if name == "floor")
    booking = f.BookingFactory(
        clients=[Client.objects.get(call_name="Imaru")],
        instructor=Staff.objects.get(sign_in_name="corin"),
        room=f.RoomFactory(name="Attic"),
        wall_day=dt.date(2026, 12, 28),
    )
    attendance = booking.attendances.get()
    plan = f.PlanFactory(attendance=attendance, exercises=["mat_chest_lift"])
    page = demo_house.page_of(role, has_touch=True, viewport=PORTRAIT)
    page.goto(f"{demo_house.address}/attendances/{attendance.public_id}/plan/")

    touch = page.get_by_role("button", name="With trunk raised on a wedge: modify")
    assert touch.bounding_box()["height"] >= 48
    touch.tap()
    row = page.locator("a.exrow").first
    expect(row).to_contain_text("without it avoid")
    assert PlanItem.objects.get(plan=plan).adaptations == ["trunk_raised_on_wedge"]

    page.get_by_role("button", name="Take it out").tap()
    expect(row).to_contain_text("Avoid")
    expect(page.get_by_text("Keep, with reason")).to_be_visible()
    assert PlanItem.objects.get(plan=plan).adaptations == []
