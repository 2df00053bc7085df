"""Addresses of the library. It knows no client, so no address here speaks of one."""

from django.urls import path

from library.views import reading

app_name = "library"
urlpatterns = [
    path("", reading.exercise_list, name="list"),
    path("<slug:exercise>/", reading.exercise_page, name="exercise"),
]
