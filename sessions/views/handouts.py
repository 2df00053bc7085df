"""Views: handouts."""
