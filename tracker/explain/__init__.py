"""What a change does to the shipments, and which late job matters."""
