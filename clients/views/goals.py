"""Views: goals."""
