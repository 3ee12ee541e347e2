"""What Django looks up under this name: the commands."""
