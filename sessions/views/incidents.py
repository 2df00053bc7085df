"""Views: incidents."""
