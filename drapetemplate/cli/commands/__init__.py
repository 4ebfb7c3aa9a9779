"""What each command does, a module a command, loaded once it is asked for."""
