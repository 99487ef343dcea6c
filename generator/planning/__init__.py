"""Forecast, prices, stock: pure arithmetic."""
