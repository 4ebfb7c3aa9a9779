"""The plan and its counts side by side: for a terminal, a program, a spreadsheet."""
