"""Addresses of the library."""

app_name = "library"
urlpatterns: list = []
