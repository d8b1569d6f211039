"""One pot as a state machine: (state, reading or command, now) -> (state, entries). Pure."""
