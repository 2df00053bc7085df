"""Views: today."""
