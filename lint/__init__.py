"""Rule-checking linter for servo axis configuration exports."""
