"""Presenters: plain Python; they turn pot states into ready-to-show words and figures."""
