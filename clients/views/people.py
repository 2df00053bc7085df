"""Views: people."""
