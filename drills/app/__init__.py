"""What can be done with the program, without screen or command line."""
