"""The practice scale: the physics of a hand pour, speaking real bytes on a pty or TCP port."""
