"""Air and helium: what they weigh, what they lift, how long it lasts, and how much of it a cylinder holds."""
