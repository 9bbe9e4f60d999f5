"""What makes an edge: the facing's grain and shaping, its kind and bulk, and the stays that hold it."""
