"""The steps of putting home practice together, as a browser without script takes them."""

from urllib.parse import urlencode

from django.urls import reverse

from sessions.demo import factories as f
from sessions.models import HomePractice


def url(client, name="home_practice", **asked) -> str:
    query = f"?{urlencode(asked)}" if asked else ""
    return reverse(f"sessions:{name}", args=[client.public_id]) + query


def typed(exercise, client, **changes) -> dict:
    """Return what the form of an exercise sends when nothing was touched but `changes`."""
    facts = exercise.current.facts
    practice = HomePractice.objects.filter(client=client).first()
    values = {
        "version": practice.version if practice else 0,
        "exercise": exercise.public_id,
        "repetitions": 8,
        "per_week": "7",
        "taught": "on",
    }
    if facts["sides"] != "both_together":
        values["sides"] = "both"
    return {name: value for name, value in {**values, **changes}.items() if value is not None}


def add(browser, client, key, **changes):
    return browser.post(url(client, "home_exercise"), typed(f.ExerciseFactory(key=key), client, **changes))


def items(client) -> list[dict]:
    practice = HomePractice.objects.filter(client=client).first()
    return practice.items if practice else []


def page(answer) -> str:
    return answer.content.decode()


def offered(answer) -> list[str]:
    return [one["name"] for one in answer.context["side"]["found"]]


def errors(answer) -> dict:
    return answer.context["side"]["form"].errors


def save_whole(browser, client, **changes):
    """Save what holds for the whole sheet."""
    practice = HomePractice.objects.filter(client=client).first()
    values = {"version": practice.version if practice else 0, "moment": "", "look_again_on": ""}
    return browser.post(url(client), {**values, **changes})
