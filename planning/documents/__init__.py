"""The papers people work from: what each says, and its bytes."""
