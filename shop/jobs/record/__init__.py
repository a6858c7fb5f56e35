"""The record: entries checked, judged, chained. Nothing here writes; the services do."""
