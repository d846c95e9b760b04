"""What a piece takes: from a spec to balloons, materials, hours and price. It may use stock; it knows no booking."""
