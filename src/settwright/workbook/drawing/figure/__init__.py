"""The figure that a garment is drawn on: where each piece of cloth is seen, from the front and from the back."""
