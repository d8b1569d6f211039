"""What a stream of scale readings means: readings, stillness, rate and lead. Pure."""
