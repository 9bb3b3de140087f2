"""What people look at: templates, static files, and presenters that turn answers into what a template shows."""
