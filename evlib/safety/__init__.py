"""Safety: shock, insulation, precharge, short circuits, cables, runaway, shutting down and commissioning."""
