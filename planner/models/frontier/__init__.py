"""The edge of one knob along a second: one chain of edges, each teaching its neighbours."""
