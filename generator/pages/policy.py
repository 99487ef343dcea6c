"""What may a page of the catalogue load and run? Only files of its own; nothing that stands in a text.

W3C Content Security Policy Level 3, as a <meta> element, so that it holds from disk as over http. A server adds the
headers that no element can give, see the tablet guide.
"""

_SOURCES = {
    "default-src": "'none'",
    "script-src": "'self'",
    "style-src": "'self'",
    "img-src": "'self' data: blob:",  # photos that the request form holds
    "connect-src": "'self'",
    "manifest-src": "'self'",
    "worker-src": "'self'",
    "form-action": "'self'",
    "frame-src": "'none'",
    "object-src": "'none'",
    "base-uri": "'none'",
}
POLICY = "; ".join(f"{name} {source}" for name, source in _SOURCES.items())
# While somebody edits, the site builder's own script in the page reloads it.
POLICY_WHILE_SERVED = POLICY.replace("script-src 'self'", "script-src 'self' 'unsafe-inline'")
