"""The app: a local server and the pages it serves. It computes nothing; every number comes from the engine."""
