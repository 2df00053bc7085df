"""Views: home_practice."""
