"""The care note: what an animal gets from when, what speaks against it, and what to ask the veterinarian."""
