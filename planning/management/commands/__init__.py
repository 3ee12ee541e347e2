"""The commands of manage.py that are this program's own."""
