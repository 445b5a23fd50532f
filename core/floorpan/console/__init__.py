"""The console: its envelope."""

from floorpan.console.envelope import KIND, Envelope, Station, footprint, outline_xy, station_at, top_z_at

__all__ = ["KIND", "Envelope", "Station", "footprint", "outline_xy", "station_at", "top_z_at"]
