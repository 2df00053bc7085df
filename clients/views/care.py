"""Views: care."""
