"""The scale on its line: profiles as data, framing, parsing, ports, the reading thread."""
