"""The plan as frozen values: run, suppliers, jobs, shipments, facts, and working-day arithmetic."""
