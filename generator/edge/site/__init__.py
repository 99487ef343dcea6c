"""The catalogue's pages become a site: the only place that knows MkDocs."""
