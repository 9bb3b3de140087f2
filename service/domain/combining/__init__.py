"""The cheapest sets of products that meet several targets at once: an integer programme and everything around it."""
