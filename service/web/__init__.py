"""HTTP only: one thin module per resource, and one per feature they share. No view computes."""
