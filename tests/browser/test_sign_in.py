"""Coming in by touch, with and without script."""

import pytest

pytestmark = pytest.mark.browser


@pytest.mark.parametrize("script", [True, False], ids=["script", "no script"])
def test_signing_in_leads_to_today(open_tablet, desk, script):
    tablet = open_tablet(script=script)
    tablet.sign_in("juniper")
    assert tablet.page.get_by_role("heading", level=1).is_visible()
    assert tablet.page.get_by_text("Nobody booked today").is_visible()
