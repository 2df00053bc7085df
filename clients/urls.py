"""Addresses about clients, headed by the thing they act on. No name and no health word in any of them."""

from django.urls import include, path

from clients.views import care, flags, goals, intake, people  # noqa: F401

client_urls: list = []
intake_urls: list = []
flag_urls: list = []
goal_urls: list = []
care_urls: list = []

app_name = "clients"
urlpatterns = [
    path("", include(client_urls)),
    path("<slug:client>/", include(intake_urls)),
    path("<slug:client>/flags/", include(flag_urls)),
    path("<slug:client>/goals/", include(goal_urls)),
    path("<slug:client>/care/", include(care_urls)),
]
