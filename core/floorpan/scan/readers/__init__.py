"""One reader a file format. Each takes the bytes and gives what it could make certain of."""
