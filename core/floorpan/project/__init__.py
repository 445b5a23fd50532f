"""The project on disk: a folder with the layout as text, the very scan files, versions and an autosave."""
