"""Where people and MkDocs come in: the command line and the plugin, the only print and the only mkdocs."""
