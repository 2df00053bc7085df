"""Views: intake."""
