"""The one door to the CAD kernel."""
