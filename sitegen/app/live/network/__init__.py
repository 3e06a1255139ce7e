"""What `live` lets in: its address, its key, the requests and connections that it answers."""

NETWORK = "network"  # `--host` without an address
