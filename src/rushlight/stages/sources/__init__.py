"""One file for each kind of thing that makes a lamp's light."""
