"""Views: timeline."""
