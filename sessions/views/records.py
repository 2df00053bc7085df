"""Views: records."""
