"""The command line: it calls the layers in order and is the only one that knows today's date."""
