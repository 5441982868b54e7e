"""Model -> SVG: geometry first, then markup."""
