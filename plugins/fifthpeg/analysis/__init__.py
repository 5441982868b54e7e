"""Model -> findings about the hands."""
