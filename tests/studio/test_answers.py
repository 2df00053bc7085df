"""What every answer carries, and what an error says.

Sources: OWASP verification standard 5.0: 3.4.3, 3.4.6 (content policy, framing), 3.4.4 (nosniff), 3.4.5 (referrer),
3.4.8, 3.5.8 (cross-origin policies), 14.3.2 (no-store), 3.5.1 (anti-forgery token), 16.5.1 (errors without
innards). The content policy is read with a parser of our own by the grammar of W3C Content Security Policy Level 3,
section 2.2.1 (directives parted by semicolons, a name and values parted by spaces).
"""

import pytest
from django.test import Client as Browser
from django.urls import reverse

from sessions.demo.factories import PASSPHRASE
from tests.people import signed_in
from tests.studio.house_urls import SECRET

pytestmark = [pytest.mark.django_db, pytest.mark.urls("tests.studio.house_urls")]


def quiet(browser):
    """Let the browser see the error page instead of the error."""
    browser.raise_request_exception = False
    return browser


ANSWERS = {
    "200": lambda b: b.get("/trial/plain/"),
    "302": lambda b: b.get(reverse("studio:sign_in")),
    "400": lambda b: b.get("/trial/plain/", headers={"host": "evil.example"}),
    "403-role": lambda b: b.get("/trial/owners-only/"),
    "403-token": lambda b: signed_out().post(reverse("studio:sign_in"), {"sign_in_name": "maris"}),
    "404": lambda b: b.get("/nothing/here/"),
    "405": lambda b: b.get(reverse("studio:sign_out")),
    "422": lambda b: Browser().post(reverse("studio:sign_in"), {"sign_in_name": "maris"}),
    "500": lambda b: quiet(b).get("/trial/broken/"),
    "200-static": lambda b: b.get("/static/css/tokens.css"),
    "404-static": lambda b: b.get("/static/css/no-such.css"),
}


def signed_out():
    return Browser(enforce_csrf_checks=True)


@pytest.fixture(params=ANSWERS)
def answer(request, as_desk):
    found = ANSWERS[request.param](as_desk)
    assert str(found.status_code) == request.param.split("-")[0]
    return found


def policy(answer) -> dict[str, list[str]]:
    directives = (part.split() for part in answer.headers["Content-Security-Policy"].split(";"))
    return {words[0]: words[1:] for words in directives if words}


class TestEveryAnswer:
    def test_content_policy(self, answer):
        rules = policy(answer)
        assert rules["default-src"] in (["'none'"], ["'self'"])
        assert rules["script-src"] == ["'self'"]
        assert rules["style-src"] == ["'self'"]
        assert rules["connect-src"] == ["'self'"]
        assert rules["object-src"] == rules["base-uri"] == rules["frame-ancestors"] == ["'none'"]
        assert rules["form-action"] == ["'self'"]
        assert set(rules["img-src"]) <= {"'self'", "data:", "blob:"}
        everything = {value for values in rules.values() for value in values}
        assert not everything & {"'unsafe-inline'", "'unsafe-eval'", "*", "http:", "https:"}

    def test_other_headers(self, answer):
        headers = answer.headers
        assert headers["X-Content-Type-Options"] == "nosniff"
        assert headers["Referrer-Policy"] == "same-origin"
        assert headers["X-Frame-Options"] == "DENY"
        assert headers["Cross-Origin-Opener-Policy"] == "same-origin"
        assert headers["Cross-Origin-Resource-Policy"] == "same-origin"
        assert all(
            f"{name}=()" in headers["Permissions-Policy"] for name in ("camera", "microphone", "geolocation")
        )

    def test_no_other_site_is_let_in(self, answer):
        assert not [name for name in answer.headers if name.lower().startswith("access-control-")]

    def test_nothing_of_a_page_is_kept(self, answer):
        if not answer.request["PATH_INFO"].startswith("/static/"):
            assert answer.headers["Cache-Control"] == "no-store"


class TestErrorPages:
    @pytest.fixture(params=["400", "403-role", "404", "500"])
    def page(self, request, as_desk):
        return ANSWERS[request.param](as_desk)

    def test_they_say_what_to_do_and_give_a_reference(self, page):
        text = page.content.decode()
        assert "<h1" in text
        assert "Reference " in text or page.status_code in (403, 404)

    def test_they_show_nothing_of_the_inside(self, page):
        text = page.content.decode()
        for word in (
            SECRET,
            "Traceback",
            "RuntimeError",
            "/home/",
            "sqlite",
            "Django",
            "tests.studio",
            "Exception",
        ):
            assert word not in text

    def test_the_reference_stands_in_the_log(self, as_desk, caplog):
        text = quiet(as_desk).get("/trial/broken/").content.decode()
        [reference] = [r.args[-1] for r in caplog.records if r.name == "evenside"]
        assert reference in text

    def test_the_page_comes_even_when_the_database_does_not(self, as_desk, monkeypatch):
        def gone(*args, **kwargs):
            raise OSError(f"{SECRET}: disk I/O error")

        monkeypatch.setattr("studio.middleware.Studio.objects.first", gone)
        page = quiet(as_desk).get("/trial/plain/")
        assert page.status_code == 500
        assert "Something broke" in page.content.decode()
        assert SECRET not in page.content.decode()

    def test_a_body_that_is_too_large_is_a_bad_request(self, as_desk):
        page = as_desk.post("/trial/takes-a-form/", {"words": "x" * (3 * 1024 * 1024)})
        assert page.status_code == 400

    @pytest.mark.parametrize("address", ["/admin/", "/__debug__/", "/api/", "/.env", "/static/../manage.py"])
    def test_the_usual_back_doors_are_not_there(self, as_owner, address):
        assert as_owner.get(address).status_code == 404


class TestToken:
    """A form without a fitting token changes nothing, and what was typed is shown back."""

    @pytest.fixture
    def browser(self, desk):
        browser = signed_in(desk)
        browser.handler.enforce_csrf_checks = True
        return browser

    def post(self, browser, token=None, **data):
        if token is not None:
            data["csrfmiddlewaretoken"] = token
        return browser.post("/trial/takes-a-form/", data)

    def token_of(self, browser):
        page = browser.get(reverse("studio:help")).content.decode()
        return page.split('name="csrfmiddlewaretoken" value="')[1].split('"')[0]

    def test_with_the_token_it_is_saved(self, browser):
        assert self.post(browser, self.token_of(browser), words="kept").content == b"kept"

    def test_without_a_token(self, browser):
        assert self.post(browser, words="kept").status_code == 403

    def test_with_a_wrong_one(self, browser):
        self.token_of(browser)
        assert self.post(browser, "x" * 64, words="kept").status_code == 403

    def test_with_one_of_another_session(self, browser, instructor):
        other = signed_in(instructor)
        other.handler.enforce_csrf_checks = True
        strange = self.token_of(other)
        self.token_of(browser)
        assert self.post(browser, strange, words="kept").status_code == 403

    def test_from_another_site(self, browser):
        token = self.token_of(browser)
        answer = browser.post(
            "/trial/takes-a-form/",
            {"csrfmiddlewaretoken": token, "words": "kept"},
            headers={"origin": "http://evil.example"},
        )
        assert answer.status_code == 403

    def test_what_was_typed_is_shown_back(self, browser):
        page = self.post(
            browser, words="Left arm stopped\nat shoulder height", days=["mon", "wed"], note="<b>O'Brien</b>"
        ).content.decode()
        assert "Left arm stopped\nat shoulder height" in page
        assert "mon" in page and "wed" in page
        assert "&lt;b&gt;O&#x27;Brien&lt;/b&gt;" in page

    def test_secrets_are_not(self, browser):
        answer = self.post(
            browser,
            passphrase="never shown back",
            code="abcde-fghjk",
            words="kept",
            csrfmiddlewaretoken="zzz",
        )
        page = answer.content.decode()
        assert "kept" in page
        assert not any(secret in page for secret in ("never shown back", "abcde-fghjk", "zzz"))

    def test_signing_in_and_out_need_one_too(self, browser, instructor):
        assert browser.post(reverse("studio:sign_out")).status_code == 403
        assert "_auth_user_id" in browser.session
        out = signed_out()
        data = {"sign_in_name": "maris", "passphrase": PASSPHRASE}
        assert out.post(reverse("studio:sign_in"), data).status_code == 403
        assert "_auth_user_id" not in out.session

    @pytest.mark.parametrize(
        ("came_from", "back"),
        [
            ("http://testserver/clients/new/", "http://testserver/clients/new/"),
            ("http://evil.example/", "/"),
            ("javascript:alert(1)", "/"),
            ("", "/"),
        ],
    )
    def test_the_way_back_stays_here(self, browser, came_from, back):
        answer = browser.post("/trial/takes-a-form/", {"words": "x"}, headers={"referer": came_from})
        assert answer.context["back"] == back
