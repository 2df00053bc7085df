"""Views: bookings."""
