"""Views: flags."""
