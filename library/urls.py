"""Addresses of the library. It knows no client, so no address here speaks of one."""

from django.urls import path

from library.views import apparatus, reading

app_name = "library"
urlpatterns = [
    path("", reading.exercise_list, name="list"),
    path("apparatus/", apparatus.apparatus, name="apparatus"),
    path("apparatus/units/new/", apparatus.new_unit, name="unit_new"),
    path("apparatus/units/<slug:unit>/", apparatus.unit, name="unit"),
    path("apparatus/springs/new/", apparatus.new_spring, name="spring_new"),
    path("apparatus/springs/<slug:spring>/", apparatus.spring, name="spring"),
    path("<slug:exercise>/", reading.exercise_page, name="exercise"),
]
