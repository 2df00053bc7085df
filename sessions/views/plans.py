"""Views: plans."""
