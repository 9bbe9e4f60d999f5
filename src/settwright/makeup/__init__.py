"""What is cut: facings, turn of cloth, allowances, hands, and the order of work."""
