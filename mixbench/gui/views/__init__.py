"""Views: widgets that render a presenter state and report what the person did."""
