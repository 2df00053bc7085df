"""Views: client_page."""
